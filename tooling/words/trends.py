"""Where the readings of a tool are going, in words: the sentence, the picture's words, and how it comes about."""

from collections.abc import Iterator
from datetime import datetime, tzinfo
from decimal import Decimal
from typing import Any

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy, ngettext

from shared.units import from_si, unit_of
from tooling.calc.trend import (
    CHANCE,
    FEWEST_FOR_A_BEND,
    FEWEST_FOR_A_STEP,
    FEWEST_VISITS,
    FURTHEST_SPANS,
    SHORTEST_SPAN,
)
from tooling.models import Kind
from tooling.models.reading_keys import si_of
from tooling.words.counting import capital
from tooling.words.readings import what
from tooling.words.terms import KINDS, term
from tooling.words.when import when

SOURCE = gettext_lazy(
    "Source: E. C. Fieller, Some problems in interval estimation, J. R. Stat. Soc. B 16 (1954) 175; the line as "
    "NIST/SEMATECH e-Handbook of Statistical Methods, 4.1.4.1. When nothing is said, and from how many visits on, are "
    "the program’s own numbers."
)
NO_LIMIT_BUILT_IN = gettext_lazy(
    "No limit is built in: we know of none that was published for tools like these. Measure while the parts that come "
    "off are as they should be, and set the number that your own parts want. A limit says nothing of a part: whether "
    "one is fit for its purpose is for whoever answers for it."
)
_DIGITS = 4
# What nobody reads digit by digit.
_TOO_LONG = 1e12
_DONE = {
    "repair": gettext_lazy("repaired"),
    "polish": gettext_lazy("polished"),
    "resurfaced": gettext_lazy("resurfaced"),
    "starting_state": gettext_lazy("count begun"),
}
_SINCE = {
    "repair": gettext_lazy("since it was repaired %(when)s"),
    "polish": gettext_lazy("since it was polished %(when)s"),
    "resurfaced": gettext_lazy("since it was resurfaced %(when)s"),
    "starting_state": gettext_lazy("since its starting state of %(when)s"),
}
# What a verdict on the readings means, where it has no number of its own.
_VERDICTS = {
    "no_trend": gettext_lazy("No trend that shows: the readings scatter more than they change."),
    "moving_away": gettext_lazy("It moves away from the limit."),
    "not_straight": gettext_lazy("It does not change in a straight line: no number can be told."),
    "step": gettext_lazy("It jumped from one visit to the next: look for what happened there."),
}


def named(series: Any) -> str:
    """Gloss 60°, Depth at keel."""
    known = {"quantity": series.quantity, "geometry": series.geometry, "spot": series.spot}
    return capital(what(known))


def in_units(value: float, unit: str, units: str) -> float:
    """A value in its reader's unit."""
    return float(from_si(Decimal(repr(value)), unit_of(unit, units)))


def symbol(unit: str, units: str) -> str:
    """That unit; "" where nobody said which."""
    return unit_of(unit, units).symbol


def number(value: float, unit: str, units: str) -> str:
    """84.2, to four digits that count."""
    read = in_units(value, unit, units)
    if abs(read) >= _TOO_LONG:
        return f"{read:.{_DIGITS}g}"
    shown = Decimal(repr(read))
    if shown:
        shown = round(shown, max(0, _DIGITS - 1 - shown.adjusted()))
    text = f"{shown:f}"
    text = text.rstrip("0").rstrip(".") if "." in text else text
    return text.replace("-", "\N{MINUS SIGN}")


def amount(value: float, unit: str, units: str) -> str:
    """84.2 GU"""
    return f"{number(value, unit, units)} {symbol(unit, units)}".rstrip()


def counted(count: float, kind: str) -> str:
    """46 pulls; of a trim mask, 46 parts."""
    n = max(0, int(count))
    if kind == Kind.TRIM_MASK:
        return ngettext("%(n)d part", "%(n)d parts", n) % {"n": n}
    return ngettext("%(n)d pull", "%(n)d pulls", n) % {"n": n}


def done(kind: str) -> str:
    """What was done to the surface, as a picture has it."""
    return str(_DONE[kind])


def last_said(series: Any, kind: str, units: str, now: datetime, zone: tzinfo) -> str:
    """Last read Mon 15:05, after 120 pulls: 84.2 GU, the mean of 3 spots from 83.9 to 84.6."""
    last = series.last
    said = {
        "when": when(last.at, now, zone),
        "pulls": counted(last.pulls, kind),
        "mean": amount(last.mean, series.unit, units),
    }
    if len(last.readings) == 1:
        return _("Last read %(when)s, after %(pulls)s: %(mean)s.") % said
    said |= {
        "low": number(last.low, series.unit, units),
        "high": number(last.high, series.unit, units),
        "n": len(last.readings),
    }
    return _("Last read %(when)s, after %(pulls)s: %(mean)s, the mean of %(n)d values from %(low)s to %(high)s.") % said


def limit_said(series: Any, units: str) -> str:
    """limit 70 GU"""
    return _("limit %(amount)s") % {"amount": amount(series.limit.value, series.unit, units)} if series.limit else ""


def sentence(series: Any, kind: str, units: str, now: datetime, zone: tzinfo) -> str:
    """Where it is going: Gloss 60° reaches 70 GU after about 46 pulls more, hardly before 31."""
    crossing = series.crossing
    if crossing is None:
        return _("No limit is set for it, so nothing is said of where it is going.")
    limit = amount(series.limit.value, series.unit, units)
    if crossing.verdict == "no_readings":
        return _("Not measured %(since)s.") % {"since": since(series, now, zone)}
    if crossing.verdict == "past_limit":
        return _("%(name)s is past the limit of %(limit)s.") % {"name": named(series), "limit": limit}
    if crossing.verdict == "too_few":
        return _too_few(series, now, zone)
    if crossing.verdict == "short_span":
        text = _("Its visits lie less than %(fewest)s apart: too close together to tell where it is going.")
        return text % {"fewest": counted(SHORTEST_SPAN, kind)}
    if crossing.verdict in _VERDICTS:
        return str(_VERDICTS[crossing.verdict])
    return _reaches(series, crossing, limit, kind)


def _reaches(series: Any, crossing: Any, limit: str, kind: str) -> str:
    said = {
        "name": named(series),
        "limit": limit,
        "about": counted(crossing.at - series.now, kind),
        "early": max(0, int(crossing.early - series.now)),
    }
    if crossing.verdict == "not_before":
        text = _("%(name)s changes, but hardly reaches %(limit)s within the next %(early)s, if it goes on so.")
        return text % {**said, "early": counted(crossing.early - series.now, kind)}
    if crossing.early <= series.now:
        return _("%(name)s may be at %(limit)s now: measure it before it is used again.") % said
    text = _("%(name)s reaches %(limit)s after about %(about)s more, hardly before %(early)d (one in twenty sooner).")
    return text % said


def _too_few(series: Any, now: datetime, zone: tzinfo) -> str:
    visits = len(series.current.visits)
    said = {"n": visits, "fewest": FEWEST_VISITS, "since": since(series, now, zone)}
    if series.current.begun is None:
        text = ngettext(
            "%(n)d visit: it takes %(fewest)d to tell where it is going.",
            "%(n)d visits: it takes %(fewest)d to tell where it is going.",
            visits,
        )
    else:
        text = ngettext(
            "%(n)d visit %(since)s: it takes %(fewest)d to tell where it is going.",
            "%(n)d visits %(since)s: it takes %(fewest)d to tell where it is going.",
            visits,
        )
    return text % said


def since(series: Any, now: datetime, zone: tzinfo) -> str:
    """Since it was repaired 4 May; "" in the first segment."""
    begun = series.current.begun
    return str(_SINCE[begun.kind]) % {"when": when(begun.at, now, zone)} if begun is not None else ""


def spots_past(series: Any) -> str:
    """That single values of the last visit are past the limit where their mean is not; else ""."""
    past = series.spots_past
    if not past or series.crossing is None or series.crossing.verdict == "past_limit":
        return ""
    text = ngettext(
        "%(n)d of %(all)d values of the last visit is past the limit, their mean is not.",
        "%(n)d of %(all)d values of the last visit are past the limit, their mean is not.",
        past,
    )
    return text % {"n": past, "all": len(series.last.readings)}


def whose_limit(series: Any, units: str) -> str:
    """The shop's limit, for which tools, which way is worse, and where it comes from."""
    row = series.limit.row
    said = {"limit": amount(series.limit.value, series.unit, units), "kind": term(KINDS, row.kind)}
    if row.worse == "up":
        text = _("At most %(limit)s") if row.tool_id else _("At most %(limit)s, for every %(kind)s")
    else:
        text = _("At least %(limit)s") if row.tool_id else _("At least %(limit)s, for every %(kind)s")
    own = _(", for this tool alone") if row.tool_id else ""
    return f"{text % said}{own}." + (f" {row.note}" if row.note else "")


def past_limit_said(one: Any, units: str, now: datetime, zone: tzinfo) -> str:
    """Gloss 60° at keel: 68 GU, read Mon 15:05. That is past the shop’s limit of 70 GU."""
    known, unit = one.entry.payload, si_of(one.entry.payload.get("unit", ""))
    said = {
        "what": capital(what(known)),
        "value": amount(one.value, unit, units),
        "when": when(one.entry.at, now, zone),
        "limit": amount(one.limit.value, unit, units),
    }
    return _("%(what)s: %(value)s, read %(when)s. That is past the shop’s limit of %(limit)s.") % said


def working(series: Any, kind: str, units: str) -> Iterator[str]:
    """What went in, the line, and what its verdict means."""
    visits = series.current.visits
    first, last = (visits[0], visits[-1]) if visits else (None, None)
    if first is not None and last is not None:
        text = ngettext(
            "%(n)d visit counts, from %(first)d to %(last)d %(along)s; values read at one count are one visit, their "
            "mean.",
            "%(n)d visits count, from %(first)d to %(last)d %(along)s; values read at one count are one visit, their "
            "mean.",
            len(visits),
        )
        yield text % {"n": len(visits), "first": first.pulls, "last": last.pulls, "along": along(kind)}
    yield _("A repair, a polish and a new surface, of any area, begin anew: what was read before does not count.")
    if series.line is not None:
        yield _line(series, units, kind)
    if series.crossing is not None and series.crossing.at is not None:
        yield _meets(series.crossing, kind)


def _line(series: Any, units: str, kind: str) -> str:
    unit = unit_of(series.unit, units)
    per_ten, left = (number / float(unit.scale) for number in (series.line.slope * 10, series.line.residual_sd))
    text = _(
        "Straight line of least squares: %(slope)s %(unit)s over ten %(along)s; what is left of the visits has a "
        "standard deviation of %(left)s %(unit)s; r² %(r).2f."
    )
    said = {"slope": f"{per_ten:+.3g}".replace("-", "\N{MINUS SIGN}"), "unit": unit.symbol, "along": along(kind)}
    return text % {**said, "left": f"{left:.2g}", "r": series.line.r_squared}


def _meets(crossing: Any, kind: str) -> str:
    text = _(
        "It meets the limit at %(at)d %(along)s in all; with 90 %% between %(early)d and %(late)d, 5 %% on each side, "
        "if it goes on in a straight line. Plan with the earliest; a knock may bring it sooner."
    )
    said = {name: max(0, int(getattr(crossing, name))) for name in ("at", "early", "late")}
    return text % {**said, "along": along(kind)}


def along(kind: str) -> str:
    """What is counted: pulls, or parts cut."""
    return _("parts") if kind == Kind.TRIM_MASK else _("pulls")


def when_silent() -> str:
    """In which cases nothing is said, with the numbers of the program."""
    text = _(
        "Nothing is said with fewer than %(visits)d visits or %(pulls)d pulls between the first and the last; where "
        "the slope may be chance, by the same 90 %%; where a step shows, from %(step)d visits on, or a bend, from "
        "%(bend)d on (p < %(chance)s); and a line is not followed farther than %(spans)d times what the visits span."
    )
    numbers = {"visits": FEWEST_VISITS, "pulls": SHORTEST_SPAN, "chance": CHANCE, "spans": FURTHEST_SPANS}
    return text % {**numbers, "step": FEWEST_FOR_A_STEP, "bend": FEWEST_FOR_A_BEND}
