"""One limit of a reading: of what, for which tools, how much, which way is worse."""

from typing import Any

from django.utils.translation import gettext as _now
from django.utils.translation import gettext_lazy as _

from tooling.forms.deeds.base import chips, words
from tooling.forms.deeds.readings import NumberField
from tooling.forms.told import Told
from tooling.models import Kind, ReadingLimit, Tool, Worse
from tooling.services.limit_rules import LONGEST
from tooling.words.terms import KINDS, QUANTITIES, term


class LimitForm(Told):
    """What a lead sets. row: the limit that is changed, if one is."""

    kind = chips(_("For every"), list(KINDS.items()), initial=Kind.MOLD.value)
    tool = words(
        _("Or for one tool: its code"), longest=16, help_text=_("Its own limit takes the place of its kind’s.")
    )
    quantity = words(_("What is measured"), longest=LONGEST["quantity"])
    unit = words(_("Unit"), longest=LONGEST["unit"])
    geometry = words(
        _("How it is measured, or over how many minutes"),
        longest=LONGEST["geometry"],
        help_text=_("As the readings have it: 60° for gloss, 10 min for a vacuum drop. Empty where they say nothing."),
    )
    limit = NumberField(
        label=_("Limit"), required=True, below_zero=True, error_messages={"required": _("Write the limit as a number.")}
    )
    worse = chips(_("Which way it gets worse"), Worse.choices)
    note = words(_("Where it comes from"), longest=LONGEST["note"])

    def __init__(self, row: ReadingLimit | None, data: Any = None, *, initial: dict[str, Any] | None = None) -> None:
        super().__init__(data, initial=_stands(row) if row is not None else initial)
        self.row = row
        self.fields["quantity"].widget.attrs["list"] = "quantities"
        self.fields["unit"].widget.attrs["list"] = "units"

    def clean(self) -> dict[str, Any]:
        """Finds the tool, and the stored word of what is measured."""
        data = super().clean() or {}
        code = (data.get("tool") or "").strip()
        tool = Tool.objects.called(code).first() if code else None
        if code and tool is None and "tool" not in self.errors:
            self.add_error("tool", _now("There is no tool %(code)s.") % {"code": code})
        data["tool"] = tool
        data["quantity"] = stored_quantity(data.get("quantity") or "")
        return data

    def facts(self) -> dict[str, Any]:
        """What the service is told."""
        return {**self.cleaned_data, "row": self.row}


def stored_quantity(typed: str) -> str:
    """As histories have it, where it was typed as pages say it."""
    tidy = " ".join(typed.split())
    return next((key for key, said in QUANTITIES.items() if str(said).casefold() == tidy.casefold()), tidy)


def _stands(row: ReadingLimit) -> dict[str, Any]:
    names = ("kind", "unit", "geometry", "limit", "worse", "note")
    said = {name: getattr(row, name) for name in names}
    tool = row.tool.code if row.tool is not None else ""
    return {**said, "quantity": term(QUANTITIES, row.quantity), "tool": tool}
