"""A tool comes into use: on one person's word, or with formal records on evidence."""

from typing import Any

from django import forms
from django.utils.translation import gettext as _now
from django.utils.translation import gettext_lazy as _

from tooling.calc.answers import NOT_GOOD
from tooling.forms.deeds.all_the_same import AskedFirst
from tooling.forms.deeds.base import chips, words
from tooling.forms.deeds.checklists import WithChecklist
from tooling.forms.deeds.corrected import LONGEST_DESIGN, LONGEST_REVISION
from tooling.forms.deeds.hands import ask_anew
from tooling.forms.deeds.in_use import IntoUseForm
from tooling.forms.deeds.pictures import WithPictures
from tooling.models import May, Purpose, Tool
from tooling.services.deeds.acceptance import lacks
from tooling.services.rights import refuse_without
from tooling.services.who_held import in_their_name
from tooling.words.looks_answered import IF_ACCEPTED


class EvidenceForm(WithChecklist, WithPictures, IntoUseForm):
    """Whether it may be used, and what that rests on.

    unsure: something speaks of it as not done yet, so that somebody has to say that it is. revision: of the design, as
    the last acceptance said it.
    """

    PURPOSE = Purpose.ACCEPTANCE

    passed = chips(
        _("May it be used?"),
        IF_ACCEPTED,
        required=True,
        error_messages={"required": _("Say whether it may be used.")},
    )
    looked = forms.BooleanField(label=_("It is hard, its steps are done, and I looked it over"), required=False)
    design_ref = words(_("Design"), longest=LONGEST_DESIGN)
    design_revision = words(_("Its revision"), longest=LONGEST_REVISION)

    def __init__(self, *args: Any, tool: Tool, unsure: bool, revision: str = "", **more: Any) -> None:
        super().__init__(*args, tool=tool, **more)
        self.tool = tool
        self.initial.update(design_ref=tool.design_ref, design_revision=revision)
        if not unsure:
            del self.fields["looked"]
        elif tool.made_from_id is not None:
            self.fields["looked"].label = _("It is off its plug, hard, and I looked it over")
        if not self.formal:
            del self.fields["passed"]
        elif self.who.is_station:
            self.fields["by"].anew = True

    @property
    def formal(self) -> bool:
        """Whether evidence is asked for."""
        return self.shop.formal_records

    @property
    def did_pass(self) -> bool:
        """Whether somebody says that it may be used."""
        return not self.formal or self.cleaned_data.get("passed") == "yes"

    def clean(self) -> dict[str, Any]:
        """With formal records it is one person’s word, as freeing is: a shared tablet wants the PIN each time."""
        data = super().clean()
        if self.amiss or self.was_sent or not self.did_pass:
            return data
        if self.formal:
            self._check_right(data)
        if self.formal and not self.errors:
            self._check_evidence(data)
        if "looked" in self.fields and not data.get("looked"):
            off = _now("Accept only what is off its plug, hard, and looked over by you.")
            done = _now("Accept only what is hard, done, and looked over by you.")
            self.add_error("looked", off if self.tool.made_from_id is not None else done)
        if self.formal:
            ask_anew(self, self.who)
        return data

    def _check_right(self, data: dict[str, Any]) -> None:
        """Before all else: nobody measures three spots to be told that they may not."""
        by = data.get("by") or (None if self.who.is_station else self.who)
        if by is not None and not self.errors.get("by"):
            with self.told():
                refuse_without(by, May.ACCEPT, data.get("at") or self.now, writer=in_their_name(by, self.who))

    def _check_evidence(self, data: dict[str, Any]) -> None:
        """All that is missing at once, each at its field."""
        readings = self.readings()
        found = lacks(self.tool, self.said_of_it(), readings, len(data["pictures"]))
        for field, message in list(found):
            field = field.replace("answers.", "item_")
            self.add_error(field if field in self.fields else None, message)

    def said_of_it(self) -> dict[str, Any]:
        """What is said besides the checklist and what was measured."""
        data, told = self.cleaned_data, self.gone_through()
        design = {name: data.get(name, "").strip() for name in ("design_ref", "design_revision")}
        return {**design, "note": data.get("note", ""), "checklist": told["checklist"], "answers": told["answers"]}

    def facts(self) -> dict[str, Any]:
        """What is written of it; a design is said only where it was looked at."""
        said = self.said_of_it()
        said.pop("note")
        told = self.gone_through()
        if not self.formal and not (told["answers"] or told["readings"] or self.cleaned_data["pictures"]):
            said = {}
        return {"passed": self.did_pass, **told, **said}


class AcceptForm(AskedFirst, EvidenceForm):
    """The same, where what is not good is asked about once."""

    def doubts(self, data: dict[str, Any]) -> list[str]:
        bad = {one.item for one in self.answered() if one.said == NOT_GOOD} if self.did_pass else set()
        lines = "; ".join(item.words for item in self.items if item.order in bad)
        return [*([_now("Not good: %(lines)s.") % {"lines": lines}] if lines else []), *self.calibration_over()]
