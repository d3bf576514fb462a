"""When each of several tools is to be looked over next, as of a moment: in a few queries for all of them."""

from collections.abc import Iterable
from datetime import UTC, datetime, timedelta, tzinfo

from django.db.models import OuterRef, Q, Subquery, Sum
from django.db.models.functions import Coalesce

from tooling.calc.entry import INSERT_KINDS
from tooling.models import Entry, Kind, Tool
from tooling.selectors.about import LookOver

_BEFORE_ALL = datetime(1, 1, 2, tzinfo=UTC)


def look_overs(tools: Iterable[Tool], at: datetime, zone: tzinfo) -> dict[int, LookOver]:
    """By the key of each tool for which look-overs are counted, as its own page counts them."""
    counted = [tool.pk for tool in tools if tool.inspect_every_pulls or tool.inspect_every_days]
    if not counted:
        return {}
    standing = Entry.objects.filter(tool=OuterRef("pk"), at__lte=at).standing()
    last = standing.filter(kind="inspected").order_by("-at", "-pk").values("at")[:1]
    pulls = standing.filter(kind="pull", at__gt=Coalesce(OuterRef("looked"), _BEFORE_ALL)).order_by()
    rows = Tool.objects.filter(pk__in=counted).annotate(
        looked=Subquery(last), begun=Subquery(standing.order_by("at").values("at")[:1])
    )
    rows = rows.annotate(pulls=Subquery(pulls.values("tool").annotate(n=Sum("count")).values("n")))
    found = list(rows)
    inside = _with_molds({one.pk: one.looked for one in found if one.kind == Kind.INSERT}, at)
    return {one.pk: _of(one, inside.get(one.pk, one.pulls or 0), zone) for one in found}


def _of(tool: Tool, pulls: int, zone: tzinfo) -> LookOver:
    looked, begun = tool.looked, tool.begun  # type: ignore[attr-defined]
    left = tool.inspect_every_pulls - pulls if tool.inspect_every_pulls else None
    since = looked.astimezone(zone).date() if looked else tool.built_on or (begun and begun.astimezone(zone).date())
    day = since + timedelta(days=tool.inspect_every_days) if tool.inspect_every_days and since else None
    return LookOver(left, day, looked)


def _with_molds(looked: dict[int, datetime | None], at: datetime) -> dict[int, int]:
    """How many pulls each insert had in its molds since it was looked at."""
    if not looked:
        return {}
    moves = Entry.objects.filter(tool=OuterRef("tool"), kind__in=INSERT_KINDS).standing()
    later = moves.filter(Q(at__gt=OuterRef("at")) | Q(at=OuterRef("at"), pk__gt=OuterRef("pk")))
    stays = Entry.objects.filter(tool__in=looked, kind="installed").standing()
    stays = stays.annotate(until=Subquery(later.order_by("at", "pk").values("at")[:1]))
    times = list(stays.values_list("tool", "mold", "at", "until"))
    since = min((one or _BEFORE_ALL for one in looked.values()), default=_BEFORE_ALL)
    pulls = Entry.objects.filter(tool__in={mold for _insert, mold, *_when in times}, kind="pull", at__lte=at).standing()
    counts = dict.fromkeys(looked, 0)
    for pulled, when, count in pulls.filter(at__gt=since).values_list("tool", "at", "count"):
        for insert, mold, begins, ends in times:
            inside = mold == pulled and begins <= when and (ends is None or when < ends)
            if inside and when > (looked[insert] or _BEFORE_ALL):
                counts[insert] += count or 0
    return counts
