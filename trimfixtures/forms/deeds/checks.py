"""The check of a cut edge: in or out at each point, or what was measured there and with what."""

from collections.abc import Iterable
from dataclasses import replace
from datetime import date
from decimal import Decimal
from typing import Any

from django import forms
from django.utils.translation import gettext as _now
from django.utils.translation import gettext_lazy as _
from django.utils.translation import ngettext

from shared.errors import Refused
from shared.units import Read, stored, unit_of
from tooling.calc.calibration import is_calibration_over
from tooling.forms.deeds.asks import AskingForm
from tooling.forms.deeds.base import chips, words
from tooling.forms.deeds.lay_up import LONGEST_PART, LONGEST_SERIAL
from tooling.forms.deeds.readings import LONGEST_WORD
from tooling.forms.measures import MeasureField
from tooling.models.fields import plain
from tooling.words.counting import capital, in_words
from tooling.words.sizes import exactly, worked
from tooling.words.when import day
from trimfixtures.calc.points import IN, OUT, Point, read_points, write_points
from trimfixtures.calc.refusal import Refusal
from trimfixtures.selectors.checking import ToCheck
from trimfixtures.services.deeds import did_pass

# Beyond, a number of mm is a slip at any part of such a shop.
MOST_MM = 1000
_LONGEST_ASKED = 8000


class CheckForm(AskingForm):
    """`measured`: numbers are asked, else in or out. The points that stood on the page come back with it."""

    CALLED = {"limit_mm": "limit"}
    TIME_WANTED = _("At what time was it checked?")

    asked_points = forms.CharField(required=False, max_length=_LONGEST_ASKED, widget=forms.HiddenInput)
    gauge = words(_("Held against"), longest=LONGEST_WORD)
    instrument = words(_("Measured with"), longest=LONGEST_WORD)
    calibrated_until = forms.DateField(
        label=_("Its calibration is good until"),
        required=False,
        widget=forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d"),
        error_messages={"invalid": _("Write the day as 2026-05-31.")},
    )
    part = words(_("Part number"), longest=LONGEST_PART)
    serial = words(_("Serial number, or several"), longest=LONGEST_SERIAL)

    def __init__(self, *args: Any, to_check: ToCheck, measured: bool, **more: Any) -> None:
        super().__init__(*args, **more)
        self.to_check, self.measured, self.units = to_check, measured, self.who.units
        self.unit = unit_of("mm", self.units)
        self.points = self._asked()
        self.initial |= {"asked_points": write_points(to_check.points), "part": to_check.part}
        self.initial |= {"serial": to_check.serial, "gauge": next(iter(to_check.gauges), "")}
        self.fields["gauge"].widget.attrs["list"] = "gauges"
        for number, point in enumerate(self.points):
            self.fields[f"p{number}"] = self._field(point)
        for name in ("gauge",) if measured else ("instrument", "calibrated_until"):
            del self.fields[name]
        if measured:
            self._ask_of_measures()

    def _asked(self) -> tuple[Point, ...]:
        """The points of the page that was sent; of a new one those that are wanted now."""
        try:
            sent = read_points(self.data.get("asked_points", "")[:_LONGEST_ASKED]) if self.is_bound else ()
            return tuple(Point(one.name, one.along) for one in sent) or self.to_check.points
        except Refusal:
            return self.to_check.points

    def _field(self, point: Point) -> forms.Field:
        if self.measured:
            return MeasureField(label=point.name, unit=self.unit, below_zero=True)
        return chips(point.name, [(IN, _("in")), (OUT, _("out"))])

    def _ask_of_measures(self) -> None:
        known = self.to_check.calibrated
        last = next(iter(known), "")
        self.initial |= {"instrument": last, "calibrated_until": known.get(last)}
        self.fields["instrument"].widget.attrs["list"] = "instruments"
        if self.to_check.limit is None:
            label = _now("How far off a point may be, either way, %(unit)s") % {"unit": self.unit.symbol}
            self.fields["limit"] = MeasureField(label=label, unit=self.unit)

    @property
    def rows(self) -> list[tuple[str, forms.BoundField]]:
        """Where along the outline each point lies, and its field."""
        return [
            (worked(one.along, self.units) if one.along is not None else "", self[f"p{number}"])
            for number, one in enumerate(self.points)
        ]

    @property
    def tolerance(self) -> str:
        """How far off a point may be, as it stands on the page, where the trim mask says so."""
        limit = self.to_check.limit
        return exactly(limit, self.units) if limit is not None else ""

    @property
    def opened(self) -> bool:
        """Whether something in the fold is wrong."""
        return any(self.errors.get(name) for name in ("part", "serial", "note"))

    @property
    def over_since(self) -> date | None:
        """The day on which the calibration ended, where that is before the check."""
        until = self.cleaned_data.get("calibrated_until") if self.is_bound else self.initial.get("calibrated_until")
        at = (self.cleaned_data.get("at") if self.is_bound else None) or self.now
        return until if is_calibration_over(until, at, self.shop.zone) else None

    @property
    def flagged(self) -> str:
        """What is said of a check that is written all the same: its calibration is over, or nobody has said."""
        if self.measured and not self.cleaned_data.get("calibrated_until"):
            return _now("Until when the calibration is good was not said. The check is written, and flagged.")
        return self.expired

    @property
    def expired(self) -> str:
        """That the calibration is over; "" while it is good, or nobody has said."""
        over = self.over_since
        if over is None:
            return ""
        text = _now("Its calibration ended on %(day)s. The check is written all the same, and flagged.")
        return text % {"day": day(over, self.today)}

    def clean(self) -> dict[str, Any]:
        data = super().clean()
        fields = {f"p{number}": point for number, point in enumerate(self.points)}
        wrong = self.errors.keys() & {*fields, "limit"}
        data["found"] = [self._found(point, data.get(name)) for name, point in fields.items()]
        self.ask_part(data.get("part", ""), "part", known={self.to_check.part})
        for name in (*fields, "limit") if self.measured else ():
            read: Read | None = data.get(name)
            if read is not None and abs(read.si) > MOST_MM:
                text = _now("That is more than %(most)s. Check the number.")
                self.add_error(name, text % {"most": worked(Decimal(MOST_MM), self.units)})
        if not wrong:
            self._judge(data)
            self._ask_left(data["found"])
        if self.measured:
            self._refuse_mixed(data, [*fields, "limit"])
            self._ask_instrument(data)
        self._ask_date(data)
        return data

    def _refuse_mixed(self, data: dict[str, Any], names: Iterable[str]) -> None:
        """One check has one unit; none at all is the same in each."""
        typed = {name: data[name] for name in names if data.get(name) is not None and data[name].number}
        first = next(iter(typed.values()), None)
        text = _now(
            "Another reading of this check is typed in another unit (%(unit)s). Say all of one check in one unit."
        )
        for name, said in typed.items():
            if first is not None and said.unit.symbol != first.unit.symbol and not self.fields[name].widget.is_hidden:
                self.add_error(name, text % {"unit": first.unit.symbol})

    def _ask_instrument(self, data: dict[str, Any]) -> None:
        """What was measured was measured with something."""
        if not data.get("instrument") and "instrument" not in self.errors:
            self.ask("no instrument", "instrument", _now("Nobody has said what measured. Write it all the same?"))

    def _found(self, point: Point, said: Any) -> Point:
        if self.measured:
            return replace(point, deviation=float(stored(said.si))) if said is not None else point
        return replace(point, within=said == IN) if said else point

    def _judge(self, data: dict[str, Any]) -> None:
        """Says what is missing before it is written."""
        if self.errors:
            return
        limit = self.to_check.limit if self.to_check.limit is not None else self.said_limit
        try:
            did_pass(write_points(data["found"]), limit)
        except Refused as refused:
            self.add_error("limit" if refused.field == "limit_mm" else None, refused.message)

    def _ask_left(self, found: list[Point]) -> None:
        left = [one.name for one in found if one.within is None and one.deviation is None]
        if not left or len(left) == len(found):
            return
        text = ngettext(
            "%(count)s point is not said: %(names)s. Write it without?",
            "%(count)s points are not said: %(names)s. Write it without?",
            len(left),
        )
        name = next(f"p{number}" for number, one in enumerate(self.points) if one.name == left[0])
        said = text % {"count": in_words(len(left)), "names": ", ".join(left)}
        self.ask(f"left {', '.join(left)}", name, capital(said))

    def _ask_date(self, data: dict[str, Any]) -> None:
        """Another instrument with the date of the one before."""
        stood = next(iter(self.to_check.calibrated), "")
        until, instrument = data.get("calibrated_until"), data.get("instrument", "")
        if not until or not stood or instrument == stood or until != self.to_check.calibrated[stood]:
            return
        text = _now("That is the day of %(instrument)s. Is it that of this one as well?")
        self.ask(f"day {instrument} {until}", "calibrated_until", text % {"instrument": stood})

    @property
    def said_limit(self) -> Decimal | None:
        """How far off a point may be, in mm, by who checks; None where nobody says it."""
        said = self.cleaned_data.get("limit")
        return plain(stored(said.si)) if said is not None else None

    def facts(self) -> dict[str, Any]:
        """What the entry says of the check."""
        data = self.cleaned_data
        known = {
            name: data[name] for name in ("part", "serial", "gauge", "instrument", "calibrated_until") if name in data
        }
        return {**known, "points": write_points(data["found"]), "limit_mm": self.said_limit}
