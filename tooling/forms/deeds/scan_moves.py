"""Two scans that move a tool: its tag, and that of the place."""

from typing import Any

from django import forms
from django.core.exceptions import ValidationError
from django.utils.translation import gettext as _now
from django.utils.translation import gettext_lazy as _

from tooling.forms.deeds.all_the_same import AskedFirst
from tooling.forms.deeds.base import DeedForm
from tooling.models import Place, Tool
from tooling.selectors import scans
from tooling.selectors.moves import before_moving

LONGEST = 300


class PairForm(AskedFirst, DeedForm):
    """A tool and the place where it is put, both read already."""

    def __init__(self, *args: Any, tool: Tool | None = None, place: Place | None = None, **more: Any) -> None:
        super().__init__(*args, **more)
        self.tool, self.place = tool, place
        self.initial.setdefault("at", "now")

    def doubts(self, data: dict[str, Any]) -> list[str]:
        if self.tool is None or self.place is None:
            return []
        return before_moving(self.tool, self.place, self.who.units)


class ScanMoveForm(PairForm):
    """The next tag. `tool` or `place`: what was read before it and waits for the other."""

    text = forms.CharField(
        label=_("Scan or type the next tag"), max_length=LONGEST, error_messages={"required": _("What was scanned?")}
    )

    def __init__(self, *args: Any, **more: Any) -> None:
        super().__init__(*args, **more)
        keys = {"autocapitalize": "characters", "autocomplete": "off", "spellcheck": "false"}
        self.fields["text"].widget.attrs.update({**keys, "autofocus": True, "data-scan": True})

    def clean_text(self) -> str:
        """A code that both a tool and a place have is the one that is waited for."""
        text = self.cleaned_data["text"]
        ways = (scans.place, scans.tool) if self.tool is not None else (scans.tool, scans.place)
        found = next((one for one in (way(text) for way in ways) if one is not None), None)
        if found is None:
            wrong = _now("There is no tool and no place %(code)s. Scan it again, or type the code on the tag.")
            raise ValidationError(wrong % {"code": scans.code_on(text)[:40]})
        if isinstance(found, Tool):
            self.tool = found
        else:
            self.place = found
        return text
