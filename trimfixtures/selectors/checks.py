"""When the cut edge of what a trim mask cuts was checked last, what came of it, and how many parts ago that was."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import UTC, date, datetime, tzinfo
from typing import Any, TypeVar

from django.db.models import Case, Exists, F, JSONField, OuterRef, Q, QuerySet, Subquery, Sum, Value, When
from django.db.models.fields.json import KeyTextTransform
from django.db.models.functions import Coalesce

from tooling.calc.calibration import is_calibration_over
from tooling.models import Entry, Kind, Tool

_BEFORE_ALL = datetime(1, 1, 2, tzinfo=UTC)
# So few parts before it a check is told of already.
SOON = 3
Rows = TypeVar("Rows", bound=QuerySet)


@dataclass(frozen=True, slots=True)
class LastCheck:
    """The last check that stands: the key of its entry, when it was, whether it passed, and what measured."""

    entry: int
    at: datetime
    passed: bool
    instrument: str
    calibrated_until: date | None
    measured: bool = False

    @property
    def calibration_unsaid(self) -> bool:
        """Whether it was measured, and nobody has said until when what measured is good."""
        return self.measured and self.calibrated_until is None

    def expired(self, zone: tzinfo) -> bool:
        """Whether the calibration of the instrument had ended when it was used, by the days of the shop."""
        return is_calibration_over(self.calibrated_until, self.at, zone)


@dataclass(frozen=True, slots=True)
class Checked:
    """How far a trim mask is from its next check.

    uses_since: parts cut since the last check, or ever. left: how many more until the next (below 0: past); None where
    none is counted. failed: the last one failed, and nobody has passed it since. wanted: why a check is wanted now:
    "" | count | gouged | slipped | off_size | failed (a look has freed it since) | never.
    """

    uses_since: int
    left: int | None
    last: LastCheck | None
    failed: bool
    wanted: str

    @property
    def soon(self) -> bool:
        """Whether it is wanted, or will be within a few parts."""
        return bool(self.wanted) or (self.left is not None and self.left <= SOON)


def checked(tools: Iterable[Tool], at: datetime) -> dict[int, Checked]:
    """Of each trim mask among these tools, by its key, as of a moment; in one query, none where there is none.

    How often a check is wanted is taken as it is written down now.
    """
    keys = [tool.pk for tool in tools if tool.kind == Kind.TRIM_MASK]
    if not keys:
        return {}
    rows = Tool.objects.filter(pk__in=keys).order_by()
    return {one.pk: checked_in(vars(one)) for one in with_checks(rows, at)}


def with_checks(rows: Rows, at: datetime, to_tool: str = "") -> Rows:
    """Rows of tools, or of what has the key of one, with what their checks are counted from, up to a moment.

    to_tool: the way from a row to its tool, such as "tool__".
    """
    standing = Entry.objects.filter(tool=OuterRef("pk"), at__lte=at).standing()
    last = standing.filter(kind="check").order_by("-at", "-pk")
    looks = standing.filter(_behind(OuterRef("check_at")), kind="inspected", payload__passed=True)
    used = standing.filter(_behind(Coalesce(OuterRef("check_at"), _BEFORE_ALL)), kind="used").order_by()
    spoilt = used.filter(payload__outcome__isnull=False).exclude(payload__outcome="").order_by("-at", "-pk")
    total = used.values(of_all=Value(1)).annotate(total=Sum("count"))
    # The history of a tool of another kind is not gone through for cuts.
    a_mask = Q(**{f"{to_tool}kind": Kind.TRIM_MASK})
    rows = rows.annotate(
        check_every=F(f"{to_tool}mask__check_every"),
        check_entry=Subquery(last.values("pk")[:1]),
        check_at=Subquery(last.values("at")[:1]),
        check_said=Subquery(last.values("payload")[:1], output_field=JSONField()),
    )
    return rows.annotate(  # type: ignore[return-value]
        check_looked=Exists(looks),
        check_uses=Case(When(a_mask, then=Subquery(total.values("total")))),
        check_outcome=Case(When(a_mask, then=Subquery(spoilt.values(said=KeyTextTransform("outcome", "payload"))[:1]))),
    )


def _behind(check_at: Any) -> Q:
    """What is behind the last check: at one instant, which a sheet of days has often, what was recorded after it.

    The time by itself is known before the first entry is read, so that no more of a history is gone through.
    """
    return Q(at__gte=check_at) & (Q(at__gt=check_at) | Q(pk__gt=OuterRef("check_entry")))


def checked_in(row: Mapping[str, Any]) -> Checked:
    """Out of what `with_checks` read, by its names."""
    last = _last(row)
    uses, every = row["check_uses"] or 0, row["check_every"]
    failed = last is not None and not last.passed
    looked = row["check_looked"]
    left = every - uses if every else None
    wanted = _wanted(failed, row["check_outcome"] or "", left, never=last is None)
    return Checked(uses, left, last, failed and not looked, wanted)


def _last(row: Mapping[str, Any]) -> LastCheck | None:
    if row["check_entry"] is None:
        return None
    said = row["check_said"] or {}
    until = said.get("calibrated_until")
    return LastCheck(
        row["check_entry"],
        row["check_at"],
        bool(said.get("passed")),
        said.get("instrument", ""),
        date.fromisoformat(until) if until else None,
        # A tolerance goes with what was measured, and with nothing else.
        bool(said.get("limit_mm")),
    )


def _wanted(failed: bool, outcome: str, left: int | None, *, never: bool) -> str:
    """What weighs most. One that was never checked wants a check only where checks are counted."""
    if failed:
        return "failed"
    if outcome:
        return outcome
    if left is None:
        return ""
    return "never" if never else "count" if left <= 0 else ""
