"""Scans that move tools: their tags, and that of the place."""

from collections.abc import Sequence
from typing import Any

from django import forms
from django.core.exceptions import ValidationError
from django.utils.translation import gettext as _now
from django.utils.translation import gettext_lazy as _

from tooling.forms.deeds.all_the_same import AskedFirst
from tooling.forms.deeds.base import DeedForm
from tooling.models import Place, Tool
from tooling.selectors import scans
from tooling.selectors.moves import before_moving_all

LONGEST = 300
# As many as two hands and a cart bring to one place at once; the address of the page says them all.
MOST = 12


class PairForm(AskedFirst, DeedForm):
    """Tools and the place where they are put, all read already."""

    def __init__(self, *args: Any, tools: Sequence[Tool] = (), place: Place | None = None, **more: Any) -> None:
        super().__init__(*args, **more)
        self.tools, self.place = list(tools), place
        self.initial.setdefault("at", "now")

    @property
    def is_pair(self) -> bool:
        """Whether both sides are known."""
        return bool(self.tools) and self.place is not None

    def about(self) -> str:
        return " ".join(one.code for one in (*self.tools, self.place) if one is not None)

    def doubts(self, data: dict[str, Any]) -> list[str]:
        return before_moving_all(self.tools, self.place, self.who.units) if self.tools and self.place else []


class ScanMoveForm(PairForm):
    """The next tag. `tools`: what was read before it and waits for its place; `place`: where every tool is put now."""

    text = forms.CharField(
        label=_("Scan or type the next tag"), max_length=LONGEST, error_messages={"required": _("What was scanned?")}
    )

    def __init__(self, *args: Any, **more: Any) -> None:
        super().__init__(*args, **more)
        # A place that was there before its tools stays for the next ones.
        self.stays = self.place is not None
        keys = {"autocapitalize": "characters", "autocomplete": "off", "spellcheck": "false"}
        self.fields["text"].widget.attrs.update({**keys, "autofocus": True, "data-scan": True})

    def clean_text(self) -> str:
        """A code that both a tool and a place have is the one that is waited for."""
        text = self.cleaned_data["text"]
        ways = (scans.place, scans.tool) if self.tools else (scans.tool, scans.place)
        found = next((one for one in (way(text) for way in ways) if one is not None), None)
        if found is None:
            wrong = _now("There is no tool and no place %(code)s. Scan it again, or type the code on the tag.")
            raise ValidationError(wrong % {"code": scans.code_on(text)[:40]})
        if isinstance(found, Place):
            self.place, self.stays = found, not self.tools
        elif found not in self.tools:
            self._one_more(found)
        return text

    def _one_more(self, tool: Tool) -> None:
        if len(self.tools) == MOST:
            raise ValidationError(_now("%(n)d tools are read already: now the tag of their place.") % {"n": MOST})
        self.tools.append(tool)
