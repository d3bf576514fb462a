"""A mold insert goes into a mold, and comes out of it: asked from either of them."""

from typing import Any

from django import forms
from django.utils.translation import gettext as _now
from django.utils.translation import gettext_lazy as _

from tooling.forms.deeds.asks import AskingForm
from tooling.forms.deeds.base import DeedForm, words
from tooling.forms.deeds.uses import LONGEST_SERIAL
from tooling.models import Kind, Tool
from tooling.selectors import scans
from tooling.selectors.put_in import before_put_in

LONGEST_SCAN = 200


class OtherForm(DeedForm):
    """Which tool of the other kind: one of the likely ones, or one that is typed or scanned."""

    CALLED = {"mold": "which", "entry": "which"}

    which = forms.CharField(required=False, max_length=LONGEST_SCAN)
    typed = words(_("Another one: its code, or scan its tag"), longest=LONGEST_SCAN)

    def __init__(self, *args: Any, tool: Tool, **more: Any) -> None:
        super().__init__(*args, **more)
        self.tool = tool

    @property
    def wanted(self) -> str:
        """The kind of the other one."""
        return str(Kind.MOLD if self.tool.kind == Kind.INSERT else Kind.INSERT)

    def clean(self) -> dict[str, Any]:
        data = super().clean()
        field = "typed" if data.get("typed", "").strip() else "which"
        text = data.get(field, "").strip()
        data["other"] = scans.tool(text) if text and field not in self.errors else None
        if not text and not {"typed", "which"} & self.errors.keys():
            self.add_error("which", self._none_said())
        elif text and data["other"] is None and field not in self.errors:
            self.add_error(field, _now("No tool has the code %(code)s.") % {"code": scans.code_on(text)[:40]})
        elif data["other"] is not None and data["other"].kind != self.wanted:
            self.add_error(field, self._wrong_kind(data["other"]))
        return data

    def _none_said(self) -> str:
        return _now("Which mold?") if self.wanted == Kind.MOLD else _now("Which mold insert?")

    def _wrong_kind(self, other: Tool) -> str:
        text = _now("%(code)s is no mold insert.") if self.wanted == Kind.INSERT else _now("%(code)s is no mold.")
        return text % {"code": other.code}

    def insert_and_mold(self) -> tuple[Tool, Tool]:
        """The two of them, whichever page it was."""
        other = self.cleaned_data["other"]
        return (self.tool, other) if self.tool.kind == Kind.INSERT else (other, self.tool)


class InstalledForm(AskingForm, OtherForm):
    """What goes in. Where one of the two wants a strip or coats first, that is asked, unless it was some other time."""

    def clean(self) -> dict[str, Any]:
        data = super().clean()
        if data.get("other") is not None and not self.errors and data["at"] is None:
            insert, mold = self.insert_and_mold()
            field = "typed" if data["typed"].strip() else "which"
            for words_ in before_put_in(insert, mold, self.now):
                self.ask(f"{insert.code} {mold.code} {words_}", field, words_)
        return data


class RemovedForm(OtherForm):
    """What came out, and whether it stayed in the part; an insert knows its mold."""

    serial = words(_("Stuck in a part? Its serial number"), longest=LONGEST_SERIAL)

    def __init__(self, *args: Any, **more: Any) -> None:
        super().__init__(*args, **more)
        if self.tool.kind == Kind.INSERT:
            del self.fields["which"], self.fields["typed"]

    def clean(self) -> dict[str, Any]:
        return DeedForm.clean(self) if self.tool.kind == Kind.INSERT else super().clean()

    @property
    def insert(self) -> Tool:
        """The insert that came out."""
        return self.tool if self.tool.kind == Kind.INSERT else self.cleaned_data["other"]
