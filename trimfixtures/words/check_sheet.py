"""The sheet of one check of a cut edge in words, for paper: every time has its date."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from typing import Any

from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from tooling.words.cautions import Caution
from tooling.words.keeping import in_groups, so_many
from tooling.words.sizes import worked
from tooling.words.tool_sheet import Fact
from tooling.words.when import day, on_paper, with_dates
from trimfixtures.words import edge_checks as words
from trimfixtures.words.cautions import checking
from trimfixtures.words.check_said import PointSaid, check_said, points_said
from trimfixtures.words.trim import stage_and_hand
from trimfixtures.words.trim_sheet import whose

# Earlier checks that stand on it; the page has all of them.
EARLIER = 8
# Letters of a fact that stands beside another
_SHORT = 34


@dataclass(frozen=True, slots=True)
class EarlierSaid:
    """A check before: when and by whom, how it ended, what was used; late: that this was past its calibration."""

    stamp: str
    head: str
    about: str
    late: str


@dataclass(frozen=True, slots=True)
class DriftSaid:
    """Points of which the same is to be said: where they are going, by how many readings of each."""

    names: list[str]
    where: str
    readings: str


@dataclass(frozen=True, slots=True)
class CheckSheet:
    """All that stands on it. `whose`: the trim mask, for the head of every page.

    verdict: how it ended. since: that it is not the last one. late: that what measured was past its calibration.
    taken: the checks that say where it is going. drifts, working: where that is, and how the readings lie in the
    tolerance.
    """

    whose: str
    as_of: str
    stage: str
    checked: str
    verdict: str
    since: str
    late: str
    facts: list[Fact]
    rows: list[PointSaid]
    earlier: list[EarlierSaid]
    more: str
    so_far: str
    taken: str
    drifts: list[DriftSaid]
    working: list[str]
    cautions: list[Caution]
    check: str
    entries: str


def check_sheet(of: Any, units: str) -> CheckSheet:
    """The words of what `selectors.check_sheet` gave, in the reader's units."""
    with with_dates():
        return _Paper(of, units).sheet()


class _Paper:
    def __init__(self, of: Any, units: str) -> None:
        self.of, self.units, self.zone = of, units, of.shop.zone
        self.one, self.tool, self.found = of.one, of.found.tool, of.found
        self.today: date = of.at.astimezone(self.zone).date()

    def sheet(self) -> CheckSheet:
        stage = stage_and_hand(self.found)
        return CheckSheet(
            whose=whose(self.tool, stage),
            as_of=on_paper(self.of.at, self.zone),
            stage=stage,
            checked=self.checked(),
            verdict=words.head(self.one),
            since=self.since(),
            late=words.calibration(self.one, self.today),
            facts=[Fact(name, said, wide=len(said) > _SHORT) for name, said in self.facts() if said],
            rows=points_said(self.one, self.found.before, self.units),
            earlier=[self.earlier(one) for one in self.found.before[:EARLIER]],
            more=_more(self.found.earlier - EARLIER),
            so_far=self.so_far(),
            taken=words.taken(self.found.series, self.of.at, self.zone),
            drifts=self.drifts(),
            working=words.working(self.found.series, self.units),
            cautions=[checking()],
            check=in_groups(self.tool.summary.head),
            entries=so_many(self.tool.summary.count),
        )

    def checked(self) -> str:
        said = {"when": on_paper(self.one.at, self.zone), "by": self.one.by}
        return (_("Checked %(when)s by %(by)s") if self.one.by else _("Checked %(when)s")) % said

    def since(self) -> str:
        """Paper is read on its own: an earlier check must not be taken for how things stand."""
        last, count = self.found.last, self.found.since
        if not count:
            return ""
        text = ngettext(
            "It is not the last: %(n)d check was made since, on %(when)s (%(how)s).",
            "It is not the last: %(n)d checks were made since, the last on %(when)s (%(how)s).",
            count,
        )
        how = _("passed") if last.passed else _("failed")
        return text % {"n": count, "when": on_paper(last.at, self.zone), "how": how}

    def facts(self) -> Iterator[tuple[str, str]]:
        """What it was found with and on; what nobody wrote down is said to be missing, since that is a finding too."""
        one, missing = self.one, _("not written down")
        yield _("Part"), one.part or missing
        yield _("Serial number"), one.serial or missing
        if one.gauge or not one.instrument:
            yield _("Held against"), one.gauge or missing
        if one.instrument:
            yield _("Measured with"), one.instrument
            yield _("Calibrated until"), self.calibrated() or missing
        if one.limit is not None or any(point.deviation is not None for point in one.points):
            yield _("Tolerance"), f"±{worked(one.limit, self.units)}" if one.limit is not None else missing
        yield _("Parts cut by then"), f"{one.uses:d}"
        yield _("Written down"), self.written()
        yield _("Found"), one.said
        yield _("Note"), one.note

    def calibrated(self) -> str:
        until = self.one.calibrated_until
        if until is None:
            return ""
        said = day(until, self.today)
        return _("%(day)s, had ended") % {"day": said} if self.one.expired else said

    def written(self) -> str:
        said = {"when": on_paper(self.one.recorded_at, self.zone), "who": self.one.recorded_by, "n": self.one.number}
        if not self.one.recorded_by:
            return _("%(when)s, entry %(n)d") % said
        return _("%(when)s, entry %(n)d, signed in as %(who)s") % said

    def earlier(self, one: Any) -> EarlierSaid:
        said = check_said(one, self.units, self.today)
        return EarlierSaid(
            stamp=" · ".join(filter(None, (on_paper(one.at, self.zone), one.by))),
            head=said.head,
            about=" ".join(said.about),
            late=words.ended(one, self.today),
        )

    def so_far(self) -> str:
        text = ngettext(
            "As of %(when)s, with %(n)d part cut so far.",
            "As of %(when)s, with %(n)d parts cut so far.",
            self.found.uses,
        )
        return text % {"when": on_paper(self.of.at, self.zone), "n": self.found.uses}

    def drifts(self) -> list[DriftSaid]:
        said: dict[tuple[str, int], list[str]] = {}
        for one in self.found.series.drifts:
            said.setdefault((words.drift(one, self.found.uses), one.readings), []).append(one.name)
        return [DriftSaid(names, where, _readings(count, names)) for (where, count), names in said.items()]


def _readings(count: int, names: list[str]) -> str:
    readings = ngettext("%(n)d reading", "%(n)d readings", count) % {"n": count}
    return readings if len(names) == 1 else _("%(readings)s of each") % {"readings": readings}


def _more(count: int) -> str:
    if count <= 0:
        return ""
    return ngettext("… and %(n)d check before these.", "… and %(n)d checks before these.", count) % {"n": count}
