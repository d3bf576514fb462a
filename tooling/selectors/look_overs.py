"""When a tool, or each of several, is to be looked over next, as of a moment: counted in one query for all of them."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta, tzinfo
from typing import Any, TypeVar

from django.db.models import Case, Exists, F, OuterRef, Q, QuerySet, Subquery, Sum, Value, When
from django.db.models.functions import Coalesce

from tooling.calc.entry import INSERT_KINDS
from tooling.models import Entry, Kind, Summary, Tool
from tooling.words.look_first import wanted_by

_BEFORE_ALL = datetime(1, 1, 2, tzinfo=UTC)
AFTER_ALL = datetime(9999, 12, 30, tzinfo=UTC)
Rows = TypeVar("Rows", bound=QuerySet)


@dataclass(frozen=True, slots=True)
class LookOver:
    """When somebody is to look it over next: in so many pulls (below 0: past), on a day.

    of_cuts: of a trim mask the parts that are cut against it stand in the place of pulls.
    """

    pulls: int | None
    day: date | None
    of_cuts: bool = False

    def is_wanted(self, today: date) -> bool:
        """Whether it is time."""
        return wanted_by(self.pulls, self.day, today)


def is_counted(tool: Tool) -> bool:
    """Whether look-overs are counted of it, by pulls or by days."""
    return bool(tool.inspect_every_pulls or tool.inspect_every_days)


def look_over(tool: Tool, at: datetime, zone: tzinfo) -> LookOver | None:
    """That of one tool; None where none is asked for."""
    return look_overs([tool], at, zone).get(tool.pk)


def look_overs(tools: Iterable[Tool], at: datetime, zone: tzinfo) -> dict[int, LookOver]:
    """By the key of each tool for which look-overs are counted. No query where none is."""
    counted = [tool.pk for tool in tools if is_counted(tool)]
    if not counted:
        return {}
    rows = Tool.objects.filter(pk__in=counted).order_by()
    return {one.pk: counted_in(one, vars(one), zone) for one in with_look_overs(rows, at)}


def counted_in(tool: Tool, row: Mapping[str, Any], zone: tzinfo) -> LookOver:
    """The next look-over, out of what `with_look_overs` read: counted from the last; before the first, from the start.

    row: has `looked`, `begun` and `pulls_since` by these names.
    """
    looked, begun = row["looked"], row["begun"]
    left = tool.inspect_every_pulls - (row["pulls_since"] or 0) if tool.inspect_every_pulls else None
    since = looked.astimezone(zone).date() if looked else tool.built_on or (begun and begun.astimezone(zone).date())
    day = days_after(since, tool.inspect_every_days) if since else None
    return LookOver(left, day, tool.kind == Kind.TRIM_MASK)


def days_after(since: date, days: int | None) -> date | None:
    """So many days later; None where none are asked for, or no calendar has such a day."""
    try:
        return since + timedelta(days=days) if days else None
    except OverflowError:
        return None


def stored(summary: Summary) -> LookOver | None:
    """The same after all of a tool's history, as its summary has it; None where none is asked for."""
    tool = summary.tool
    if not is_counted(tool):
        return None
    return LookOver(summary.look_left, summary.look_on, tool.kind == Kind.TRIM_MASK)


def with_look_overs(rows: Rows, at: datetime, to_tool: str = "", only: Q | None = None) -> Rows:
    """Rows of tools, or of what has the key of one, with what look-overs are counted from, up to a moment.

    to_tool: the way from a row to its tool, such as "tool__". only: the rows of which it is to be read. Nothing is
    counted where nobody asks for look-overs.
    """
    only = only if only is not None else Q()
    standing = Entry.objects.filter(tool=OuterRef("pk"), at__lte=at).standing()
    last = standing.filter(kind="inspected").order_by("-at", "-pk").values("at")[:1]
    by_pulls = Q(only, **{f"{to_tool}inspect_every_pulls__gt": 0})
    by_days = Q(only, **{f"{to_tool}inspect_every_days__gt": 0})
    an_insert, a_mask = (Q(**{f"{to_tool}kind": kind}) for kind in (Kind.INSERT, Kind.TRIM_MASK))
    rows = rows.annotate(looked=Case(When(by_pulls | by_days, then=Subquery(last)))).annotate(
        begun=Case(When(by_days, then=Subquery(standing.order_by("at", "pk").values("at")[:1]))),
        pulls_since=Case(
            When(by_pulls & an_insert, then=_total(_reaching(_pulls(at)))),
            When(by_pulls & a_mask, then=_total(_pulls(at, "used").filter(tool=OuterRef("pk")))),
            When(by_pulls, then=_total(_pulls(at).filter(tool=OuterRef("pk")))),
        ),
    )
    return rows  # type: ignore[return-value]


def _pulls(at: datetime, kind: str = "pull") -> QuerySet[Entry]:
    """Pulls, or cuts, since a row was looked over."""
    since = Coalesce(OuterRef("looked"), _BEFORE_ALL)
    return Entry.objects.filter(kind=kind, at__gt=since, at__lte=at).standing().order_by()


def _reaching(pulls: QuerySet[Entry]) -> QuerySet[Entry]:
    """Those that reach the insert of a row: it was in the mold then, or at the lay-up of what was pulled.

    One that stuck in the part, and was taken out of the mold with it, came off like the rest.
    """
    insert = OuterRef(OuterRef("pk"))
    molds = Entry.objects.filter(tool=insert, kind="installed").values("mold")
    before = Entry.objects.filter(tool=OuterRef("tool"), at__lte=OuterRef("at")).standing()
    ended = before.filter(kind__in=("pull", "abandoned"), at__lt=OuterRef("at")).order_by("-at", "-pk").values("at")[:1]
    lay_ups = before.filter(kind="lay_up", at__gte=Coalesce(OuterRef("ended"), _BEFORE_ALL))
    lay_ups = lay_ups.alias(was_in=_mold_then(OuterRef(insert))).filter(was_in=F("tool"))
    pulls = pulls.filter(tool__in=molds).alias(was_in=_mold_then(insert), ended=Subquery(ended))
    return pulls.filter(Q(was_in=F("tool")) | Q(Exists(lay_ups)))


def _mold_then(insert: OuterRef) -> Subquery:
    """The mold that an insert was in at the time of an entry."""
    moves = Entry.objects.filter(tool=insert, kind__in=INSERT_KINDS, at__lte=OuterRef("at")).standing()
    into = Case(When(kind="installed", then=F("mold")))
    return Subquery(moves.order_by("-at", "-pk").values(into=into)[:1])


def _total(pulls: QuerySet[Entry]) -> Subquery:
    return Subquery(pulls.values(of_all=Value(1)).annotate(total=Sum("count")).values("total"))
