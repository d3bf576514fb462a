"""Looking at a tool: its checklist, and whether it may be used."""

from typing import Any

from django.utils.translation import gettext_lazy as _

from tooling.forms.deeds.all_the_same import AskedFirst
from tooling.forms.deeds.base import DeedForm, chips
from tooling.forms.deeds.checklists import WithChecklist
from tooling.forms.deeds.hands import ask_anew
from tooling.forms.deeds.pictures import WithPictures


class LookedAtForm(AskedFirst, WithChecklist, WithPictures, DeedForm):
    """Whether it may be used. To free it although not all is good is asked about once."""

    passed = chips(
        _("May it be used?"),
        [("yes", _("yes, free it")), ("no", _("no, it stays held"))],
        required=True,
        error_messages={"required": _("Say whether it may be used.")},
    )

    def __init__(self, *args: Any, **more: Any) -> None:
        super().__init__(*args, **more)
        if self.who.is_station:
            self.fields["by"].anew = True

    def clean(self) -> dict[str, Any]:
        """Freeing is one person's word: a shared tablet wants the PIN for it each time."""
        data = super().clean()
        if data.get("passed") == "yes":
            ask_anew(self, self.who)
        return data

    def doubts(self, data: dict[str, Any]) -> list[str]:
        return self.not_all_good() if data.get("passed") == "yes" else []

    @property
    def did_pass(self) -> bool:
        """Whether somebody says that it may be used."""
        return bool(self.cleaned_data["passed"] == "yes")
