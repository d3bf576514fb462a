"""The checks of a cut edge in words: one of them, a point of it, how it drifts, and how its numbers come about."""

from collections.abc import Iterator, Sequence
from datetime import date, datetime, tzinfo
from typing import Any

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy, ngettext

from tooling.words.sizes import worked
from tooling.words.when import day, when
from trimfixtures.calc.edges import ENOUGH, SOURCE_WANTS
from trimfixtures.drawing.deviations import in_order

SOURCE = gettext_lazy(
    "Source: NIST/SEMATECH e-Handbook of Statistical Methods, 6.1.6. It wants about %(wanted)d readings that are "
    "independent of each other and about normally distributed, from a process that is stable; points of one part are "
    "hardly independent."
)
# Why nothing is said of where a point is going, by the verdict on its readings.
_NOT_SAID = {
    "no_readings": gettext_lazy("nothing was measured"),
    "too_few": gettext_lazy("too few checks to tell where it is going; five are needed"),
    "short_span": gettext_lazy("too few parts between the checks to tell where it is going"),
    "no_trend": gettext_lazy("no trend that shows"),
    "moving_away": gettext_lazy("moves away from the tolerance"),
    "not_straight": gettext_lazy("does not drift in a straight line: no date can be told"),
    "step": gettext_lazy("jumped from one check to the next: look for what happened there"),
    "not_before": gettext_lazy(
        "drifts, but hardly to its tolerance within twice the parts looked at, if it goes on so"
    ),
}


def head(check: Any) -> str:
    """Passed: 5 points, none out; where some were left: 3 of 5 points looked at, none out."""
    passed = _("Passed") if check.passed else _("Failed")
    if not check.points:
        return passed
    count, out = len(check.points), len(check.out)
    seen = sum(one.deviation is not None or one.within is not None for one in check.points)
    points = ngettext("%(count)d point", "%(count)d points", count) % {"count": count}
    if seen < count:
        points = _("%(seen)d of %(points)s looked at") % {"seen": seen, "points": points}
    wrong = _("none out") if not out else _("%(out)d out") % {"out": out}
    return _("%(passed)s: %(points)s, %(wrong)s") % {"passed": passed, "points": points, "wrong": wrong}


def about(check: Any, units: str) -> Iterator[str]:
    """Against what, with what, how far off it may be, on which part."""
    if check.gauge:
        yield _("Against %(gauge)s.") % {"gauge": check.gauge}
    if check.instrument:
        yield _("With %(instrument)s.") % {"instrument": check.instrument}
    if check.limit is not None:
        yield _("Tolerance ±%(size)s.") % {"size": worked(check.limit, units)}
    if check.serial:
        yield _("Serial %(serial)s.") % {"serial": check.serial}
    after = ngettext("After %(count)d part.", "After %(count)d parts.", check.uses) % {"count": check.uses}
    yield after if check.uses else _("Before the first part.")
    if check.said:
        yield _("Found: %(text)s.") % {"text": check.said}
    if check.note:
        yield f"“{check.note}”"


def calibration(check: Any, today: date) -> str:
    """That what measured was past its calibration on that day, or that nobody said; else ""."""
    if not check.expired and check.calibrated_until is None and any(one.deviation is not None for one in check.points):
        return _("Nobody said until when the instrument is calibrated.")
    if not check.expired:
        return ""
    until = day(check.calibrated_until, today)
    return _(
        "Calibration of the instrument had ended: good until %(day)s. Check again with one that is calibrated."
    ) % {"day": until}


def ended(check: Any, today: date) -> str:
    """The same in short."""
    return (
        _("Its calibration had ended on %(day)s.") % {"day": day(check.calibrated_until, today)}
        if check.expired
        else ""
    )


def found(point: Any, units: str) -> str:
    """+0.32 mm, in, out."""
    if point.deviation is None:
        return _("in") if point.within else _("out") if point.within is False else _("not looked at")
    return signed(point.deviation, units)


def signed(number: float, units: str) -> str:
    """+0.32 mm"""
    sign = "+" if number > 0 else "\N{MINUS SIGN}" if number < 0 else ""
    return sign + worked(abs(number), units)


def judged(point: Any, *, out: bool, limit: float | None) -> str:
    """Whether it is within, and on which side it is off."""
    if point.deviation is None or (limit is None and not out):
        return ""
    if not out:
        return _("within")
    return _("out: material left") if point.deviation > 0 else _("out: cut too deep")


def earlier(name: str, checks: Sequence[Any], units: str, most: int = 3) -> str:
    """What the same point was at the checks before, the newest first: +0.21, in, +0.1."""
    same = [one for check in checks for one in in_order(check.points) if one.name.casefold() == name.casefold()]
    return ", ".join(_number(one, units) for one in same[:most])


def _number(point: Any, units: str) -> str:
    """What was found, without the unit that stands beside it already."""
    said = found(point, units)
    return said if point.deviation is None else said.rpartition(" ")[0]


def drift(one: Any, uses: int) -> str:
    """Where a point is going: at its tolerance after about 61 parts, hardly before 55."""
    crossing = one.crossing
    if crossing.verdict == "past_limit":
        return _("is past its tolerance")
    if crossing.verdict != "reaches":
        return str(_NOT_SAID[crossing.verdict])
    early, at = max(0, int(crossing.early)), max(0, int(crossing.at))
    if early <= uses:
        return _("may be at its tolerance now: check it before more is cut")
    return _(
        "at its tolerance after about %(at)d parts, hardly before %(early)d (90 %%, if it goes on in a straight line; "
        "a knock may bring it sooner)"
    ) % {"early": early, "at": at}


def taken(series: Any, now: datetime, zone: tzinfo) -> str:
    """Which checks say where it is going: all, or those since it was mended; and no more than the newest."""
    said = []
    if series.begins is not None:
        text = _(
            "By the checks since that of %(when)s, which failed: somebody looked at the trim mask and freed it after "
            "that, so what was measured before does not count."
        )
        said.append(text % {"when": when(series.begins, now, zone)})
    if series.most is not None:
        said.append(_("By the newest %(n)d checks.") % {"n": series.most})
    return " ".join(said) or _("By all checks.")


def working(series: Any, units: str) -> list[str]:
    """How the readings lie in their limits, and what to mind where they drift or are of several points."""
    if series.capability is None:
        return []
    said = [*_drifting(series.drifts), *capability(series.capability, units)]
    if series.mixed:
        said.append(
            _(
                "The readings of all points are taken as one: where one point is always off to one side, the indices "
                "come out low though each point may be steady."
            )
        )
    return said


def _drifting(drifts: Sequence[Any]) -> Iterator[str]:
    """Indices of what does not stand still say nothing of the next part."""
    names = [f"“{one.name}”" for one in drifts if one.drifts]  # a name may have commas
    if names:
        text = ngettext(
            "%(points)s drifts: the indices below do not hold while it does.",
            "%(points)s drift: the indices below do not hold while they do.",
            len(names),
        )
        yield text % {"points": ", ".join(names)}


def capability(found: Any, units: str) -> list[str]:
    """How the readings lie in their limits, with the formula in words."""
    size = {"mean": signed(found.mean, units), "sd": worked(found.sd, units)}
    said = [
        ngettext("%(count)d reading.", "%(count)d readings.", found.count) % {"count": found.count}
        + " "
        + _("Mean %(mean)s, standard deviation %(sd)s, %(out)d out of the limits.")
        % {**size, "out": found.out_of_limits}
    ]
    if found.few:
        text = _("Fewer than %(enough)d readings: hardly more than a guess (the program’s own number).")
        said.append(text % {"enough": ENOUGH})
    if found.cp is None:
        return [*said, _("They do not spread at all: no index can be told.")]
    said.append(_("Cp = both limits apart by 6 standard deviations = %(number).2f.") % {"number": found.cp})
    said.append(
        _("Cpk = from the mean to the nearer limit by 3 standard deviations = %(number).2f.") % {"number": found.cpk}
    )
    said.append(_("Cpm = both limits apart by 6 times the spread around 0 = %(number).2f.") % {"number": found.cpm})
    return [*said, str(SOURCE) % {"wanted": SOURCE_WANTS}]


def last_said(check: Any, now: datetime, zone: tzinfo) -> str:
    """Last checked Mon 15:05 by Jonas: passed."""
    said = {"when": when(check.at, now, zone), "by": check.by, "how": _("passed") if check.passed else _("failed")}
    return (_("Last checked %(when)s by %(by)s: %(how)s.") if check.by else _("Last checked %(when)s: %(how)s.")) % said
