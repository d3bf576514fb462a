"""The tools that a question is about, each in one row with all that is asked of it: one query for all of them."""

from collections.abc import Callable, Collection, Iterable
from datetime import datetime

from django.db.models import BooleanField, Case, Exists, F, JSONField, OuterRef, Q, QuerySet, Subquery, When
from django.db.models.functions import Coalesce

from tooling.models import Entry, Flag, Kind, Shop, Summary
from tooling.selectors.look_overs import with_look_overs
from tooling.selectors.past_limits import has_limit

VACUUM_DROP = "vacuum drop"
# Readings before these are of another surface.
_ANEW = ("repair", "polish", "resurfaced")
# What is flagged so was no return into use.
_BROUGHT_NOTHING_BACK = ("not_retired", "before_starting_state")
_WITH = ("tool__release_system", "in_mold_of", "home", "seen_place")
# What another app reads of the tools of a kind, in the same query: it is given the rows and the moment.
Columns = Callable[[QuerySet[Summary], datetime], QuerySet[Summary]]
_columns: dict[str, Columns] = {}


def register_columns(kind: str, columns: Columns) -> None:
    """Adds what is read of every row where tools of that kind are among those that are asked about."""
    _columns[kind] = columns


def rows(
    keys: Collection[int], matched: Collection[str], at: datetime, *, kinds: Iterable[str], vacuum: bool
) -> list[Summary]:
    """These tools, every insert that was ever put into one of them, and the molds of these matched sets.

    kinds: of these tools.
    later: it has entries after the moment, so that what its columns say is not of then. making_then, unaccepted: in
    the making, and brought back but not accepted, as of the moment.
    has_limit: the shop had a limit of what is read of it.
    loan: what the loan says that stands. reading, reading_at, worked_at: of the vacuum drop, where it is asked for.
    """
    inside = Entry.objects.filter(mold__in=keys, kind="installed").values("tool")
    wanted = Q(tool__in=keys) | Q(tool__in=inside)
    if matched:
        wanted |= Q(tool__kind=Kind.MOLD, tool__matched_set__in=matched)
    found = rows_of(wanted, at, kinds)
    return list(_with_vacuum(found, at) if vacuum else found)


def rows_of(wanted: Q, at: datetime, kinds: Iterable[str]) -> QuerySet[Summary]:
    """The same of any tools, nothing read yet: without vacuum."""
    found = _with_making(Summary.objects.filter(wanted).select_related(*_WITH).order_by(), at)
    found = _with_acceptance(found, at)
    found = with_look_overs(found, at, "tool__", Q(later=True) | Q(last_at__gt=at))
    found = found.annotate(has_limit=has_limit("tool__kind", "pk", at))
    for kind in sorted(_columns.keys() & set(kinds)):
        found = _columns[kind](found, at)
    return found


def _with_making(found: QuerySet[Summary], at: datetime) -> QuerySet[Summary]:
    own = Entry.objects.filter(tool=OuterRef("pk"))
    before = own.filter(at__lte=at).standing().order_by("-at", "-pk")
    steps = before.filter(kind__in=("making", "accepted"))
    step = Subquery(steps.values(is_step=Case(When(kind="making", then=True), default=False))[:1])
    then = Coalesce(step, F("tool__in_making"), output_field=BooleanField())
    loan = Subquery(before.filter(kind="lent").values("payload")[:1], output_field=JSONField())
    return found.annotate(
        later=Exists(own.filter(at__gt=at)),
        making_then=Case(When(Exists(own.filter(at__gt=at)), then=then), default=F("making")),
        loan=Case(When(lent=True, then=loan)),
    )


def _with_acceptance(found: QuerySet[Summary], at: datetime) -> QuerySet[Summary]:
    own = Entry.objects.filter(tool=OuterRef("pk"))
    flagged = Flag.objects.filter(entry=OuterRef("pk"), flag__in=_BROUGHT_NOTHING_BACK)
    before = own.filter(at__lte=at, kind__in=("reinstated", "accepted")).standing().exclude(Exists(flagged))
    back = When(kind="reinstated", at__gte=Subquery(Shop.objects.values("formal_since")[:1]), then=True)
    last = Subquery(before.order_by("-at", "-pk").values(is_back=Case(back, default=False))[:1])
    then = Coalesce(last, False, output_field=BooleanField())
    return found.annotate(
        unaccepted=Case(When(Exists(own.filter(at__gt=at)), then=then), default=F("accept_again")),
    )


def _with_vacuum(found: QuerySet[Summary], at: datetime) -> QuerySet[Summary]:
    """The last reading of that quantity, and when the surface was last worked on."""
    before = Entry.objects.filter(tool=OuterRef("pk"), at__lte=at).standing().order_by("-at", "-pk")
    readings = before.filter(kind="reading", payload__quantity__icontains=VACUUM_DROP)
    bagged = Q(tool__kind__in=(Kind.MOLD, Kind.PLUG))
    return found.annotate(
        reading=Case(When(bagged, then=Subquery(readings.values("payload")[:1], output_field=JSONField()))),
        reading_at=Case(When(bagged, then=Subquery(readings.values("at")[:1]))),
        worked_at=Case(When(bagged, then=Subquery(before.filter(kind__in=_ANEW).values("at")[:1]))),
    )
