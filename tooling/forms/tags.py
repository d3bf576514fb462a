"""What tags are printed on and how, in a person's units; what was typed stays."""

from collections.abc import Mapping
from decimal import Decimal
from functools import cached_property
from typing import Any

from django import forms
from django.utils.safestring import mark_safe
from django.utils.translation import gettext as _now
from django.utils.translation import gettext_lazy as _

from shared.errors import Refused
from shared.paper import stocks
from shared.paper.stocks import Stock
from tooling.drawing.stocks import own_picture, picture
from tooling.forms.measures import MeasureField
from tooling.words.measures import measure, unit_for

NAMES = {
    stocks.CARD: _("Card"),
    stocks.LABEL: _("Label"),
    stocks.A7: _("A7, to hang up"),
    stocks.A4_SHEET: _("A4 sheet"),
    stocks.LETTER_SHEET: _("Letter sheet"),
    stocks.CUSTOM: _("Own size"),
}
# More places than this are not drawn to be tapped: on a phone they would be too small.
MOST_COLUMNS, MOST_CELLS = 4, 40


class TagForm(forms.Form):
    """The stock, its own size where it has one, where to begin on a sheet, and what else is printed."""

    stock = forms.ChoiceField(
        label=_("On what"),
        choices=list(NAMES.items()),
        widget=forms.RadioSelect,
        error_messages={"invalid_choice": _("Choose one of these.")},
    )
    gates = forms.ChoiceField(
        label=_("The row for the pencil"),
        choices=[("yes", _("print it")), ("no", _("leave it off"))],
        widget=forms.RadioSelect,
        required=False,
    )
    cut_marks = forms.BooleanField(label=_("Cut marks between the tags"), required=False)
    start = forms.IntegerField(
        label=_("The first tag goes here"),
        required=False,
        error_messages={"invalid": _("Say which place of the sheet: 1 is at the top left.")},
    )
    sure = forms.BooleanField(label=_("Print all the same"), required=False)

    def __init__(self, data: Any = None, *, system: str, remembered: Mapping[str, str]) -> None:
        """`system`: the person's units; `remembered`: what was chosen last on this machine."""
        super().__init__(data, initial=self.as_before(remembered))
        self.system = system
        unit = unit_for("wide_mm", system)
        for name, label in (("wide", _now("Width")), ("high", _now("Height"))):
            self.fields[name] = MeasureField(label=f"{label}, {unit.symbol}", unit=unit)
        self.laid_out: Stock | None = None

    @staticmethod
    def as_before(remembered: Mapping[str, str]) -> dict[str, str]:
        """What was chosen last on this machine; on labels where nothing was yet."""
        return {"stock": stocks.LABEL, "gates": "yes", "start": "1", **remembered}

    def clean(self) -> dict[str, Any]:
        """The stock as it is printed on; where the page is one tag, there is nothing to start from and to cut."""
        data = super().clean() or {}
        size = self._size(data)
        if self.errors.keys() & {"stock", "wide", "high"}:
            return data
        try:
            self.laid_out = stocks.stock(data["stock"], size)
            if self.laid_out.sheet is None:
                data["start"], data["cut_marks"] = 1, False
            elif "start" not in self.errors:
                data["start"] = 1 if data.get("start") is None else data["start"]
                self.laid_out.check_start(data["start"])
        except Refused as refused:
            self.add_error("start" if refused.field == "start" else "wide", refused.message)
        return data

    def _size(self, data: dict[str, Any]) -> tuple[float, float] | None:
        """The own size, of a tag or of each tag on a sheet; cards, labels and A7 have theirs."""
        if data.get("stock") not in (stocks.CUSTOM, *stocks.SHEETS):
            return None
        said = {name: data.get(name) for name in ("wide", "high")}
        if data["stock"] in stocks.SHEETS and not any(said.values()):
            return None
        for name, one in said.items():
            if one is None and name not in self.errors:
                self.add_error(name, _now("Say how wide and how high the tag is."))
            elif one is not None and not stocks.SMALLEST <= one.si <= stocks.LARGEST:
                self.add_error(name, self._out_of_bounds())
        if self.errors.keys() & {"wide", "high"}:
            return None
        return float(said["wide"].si), float(said["high"].si)

    def _out_of_bounds(self) -> str:
        least, most = (measure(Decimal(one), "mm", self.system) for one in (stocks.SMALLEST, stocks.LARGEST))
        return _now("A side of a tag is from %(least)s to %(most)s long.") % {"least": least, "most": most}

    @cached_property
    def shown(self) -> Stock | None:
        """The stock that stands on the page: what was sent, or what is remembered; None where it cannot be."""
        if self.is_bound:
            self.is_valid()
            return self.laid_out
        again = TagForm({**{name: str(one) for name, one in self.initial.items()}}, system=self.system, remembered={})
        return again.shown

    def cards(self) -> list[dict[str, Any]]:
        """The stocks to choose from, each with its picture and its size."""
        value = self["stock"].value()
        return [
            {"name": name, "word": word, "chosen": name == value, **self._drawn(name)} for name, word in NAMES.items()
        ]

    def _drawn(self, name: str) -> dict[str, Any]:
        if name == stocks.CUSTOM:
            svg = mark_safe(own_picture())  # noqa: S308  (ours alone)
            return {"picture": svg, "size": _now("as you say below")}
        one = stocks.stock(name)
        svg = mark_safe(picture(one.page, (one.wide, one.high), one.places))  # noqa: S308  (numbers only)
        return {"picture": svg, "size": self.said_size(one.page)}

    def said_size(self, size: tuple[float, float]) -> str:
        """85.6 × 53.98 mm"""
        wide, high = (measure(Decimal(str(side)), "mm", self.system) for side in size)
        return f"{wide.text} × {high}"

    @property
    def cells(self) -> list[int]:
        """The places of the sheet, to be tapped; none where they are typed or there is no sheet."""
        one = self.shown
        if one is None or one.sheet is None or one.columns > MOST_COLUMNS or len(one.places) > MOST_CELLS:
            return []
        return list(range(1, len(one.places) + 1))

    def chosen(self) -> dict[str, str]:
        """What is remembered of it on this machine."""
        kept = {name: str(self.data.get(name, ""))[:40] for name in ("stock", "gates", "wide", "high", "start")}
        return {**kept, "cut_marks": "on"} if self.cleaned_data.get("cut_marks") else kept
