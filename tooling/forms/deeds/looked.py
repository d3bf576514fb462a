"""Looking at a tool: its checklist, its open defects, and whether it may be used."""

from collections.abc import Collection
from typing import Any

from django.utils.translation import gettext as _now
from django.utils.translation import gettext_lazy as _

from tooling.calc.defect_lines import CLOSED
from tooling.forms.deeds.all_the_same import AskedFirst
from tooling.forms.deeds.base import DeedForm, chips
from tooling.forms.deeds.checklists import WithChecklist
from tooling.forms.deeds.defects import DefectsSeen
from tooling.forms.deeds.hands import ask_anew
from tooling.forms.deeds.pictures import WithPictures
from tooling.models import May
from tooling.services.defects import numbered
from tooling.services.rights import refuse_without
from tooling.services.standing_rules import SAME_HAND
from tooling.services.who_held import in_their_name
from tooling.words.defects import named
from tooling.words.looks_answered import IF_HELD, IF_NOT_HELD


class LookedAtForm(AskedFirst, WithChecklist, DefectsSeen, WithPictures, DeedForm):
    """Whether it may be used. To free it although not all is good is asked about once.

    holds: the keys of the entries that hold it. held: whether it is held at all. stopped: the keys
    of the people whose entries hold it.
    """

    passed = chips(
        _("May it be used?"),
        IF_NOT_HELD,
        required=True,
        error_messages={"required": _("Say whether it may be used.")},
    )

    def __init__(
        self, *args: Any, holds: Collection[int] = (), stopped: Collection[int] = (), held: bool = False, **more: Any
    ) -> None:
        self._holds, self._stopped, self._held = holds, stopped, held
        super().__init__(*args, **more)
        if held:
            self.fields["passed"].choices = IF_HELD
        if self.who.is_station:
            self.fields["by"].anew = True

    def clean(self) -> dict[str, Any]:
        """Freeing is one person's word: a shared tablet wants the PIN for it each time."""
        data = super().clean()
        if data.get("passed") == "yes":
            ask_anew(self, self.who)
        return data

    def doubts(self, data: dict[str, Any]) -> list[str]:
        if data.get("passed") != "yes" or self._is_not_theirs(data):
            return []
        return [*self.not_all_good(), *self._still_open()]

    def _is_not_theirs(self, data: dict[str, Any]) -> bool:
        """Whether they may not free it; that is said before anything else is asked."""
        by = data.get("by") or self.who
        if not (self._held and self.shop.formal_records):
            return False
        if by.pk in self._stopped:
            self.add_error("by" if "by" in self.fields else None, str(SAME_HAND))
        else:
            with self.told():
                refuse_without(by, May.FREE, data.get("at") or self.now, writer=in_their_name(by, self.who))
        return bool(self.errors)

    def _still_open(self) -> list[str]:
        """Defects that it was held with, and that nobody says are gone."""
        gone = {line.number for line in self.lines() if line.did == CLOSED}
        held_with = [
            named(one, self.who.units)
            for one in self.open_defects
            if one.number not in gone and any(visit.entry.pk in self._holds for visit in one.visits)
        ]
        text = _now("It was held with what is still there: %(defects)s.")
        return [text % {"defects": "; ".join(held_with)}] if held_with else []

    @property
    def did_pass(self) -> bool:
        """Whether somebody says that it may be used."""
        return bool(self.cleaned_data["passed"] == "yes")

    def facts(self) -> dict[str, Any]:
        """What is written of the look."""
        return {"passed": self.did_pass, "defects": numbered(self.lines()), **self.gone_through()}
