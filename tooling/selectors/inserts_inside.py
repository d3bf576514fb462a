"""Which mold inserts were in a mold when it was last used."""

from collections.abc import Collection, Iterator
from dataclasses import dataclass, field
from datetime import datetime

from django.db.models import Case, DateTimeField, Exists, F, OuterRef, Q, Subquery, Value, When

from tooling.calc.entry import INSERT_KINDS
from tooling.models import Entry, Tool


@dataclass(slots=True)
class Inside:
    """When a mold was last used, and the inserts that were in it then, in code order."""

    at: datetime
    inserts: list[Tool] = field(default_factory=list)


def last_inside(molds: Collection[int], at: datetime) -> dict[int, Inside]:
    """That of each of these molds that was used by then, in two queries."""
    found = {key: Inside(used) for key, used in _last_uses(molds, at).items()}
    for key, insert in _inside({key: one.at for key, one in found.items()}):
        found[key].inserts.append(insert)
    return found


def _inside(uses: dict[int, datetime]) -> Iterator[tuple[int, Tool]]:
    """The inserts that were in each mold at its moment: none of their moves until then lies behind the one into it."""
    if not uses:
        return
    used = Case(*(When(mold=key, then=Value(at)) for key, at in uses.items()), output_field=DateTimeField())
    until = Entry.objects.filter(tool=OuterRef("tool"), kind__in=INSERT_KINDS, at__lte=OuterRef("used")).standing()
    behind = until.filter(Q(at__gt=OuterRef("at")) | Q(at=OuterRef("at"), pk__gt=OuterRef("pk")))
    went_in = Entry.objects.filter(mold__in=uses, kind="installed").standing().annotate(used=used)
    stays = went_in.filter(~Exists(behind), at__lte=F("used")).select_related("tool").order_by("tool__code")
    yield from ((one.mold_id or 0, one.tool) for one in stays)


def _last_uses(molds: Collection[int], at: datetime) -> dict[int, datetime]:
    """When a part was last laid up in each mold; or pulled, where nobody writes lay-ups, or no longer.

    The first pull after a lay-up is of that part: an insert may have stuck in it.
    """
    found = Tool.objects.filter(pk__in=molds).annotate(
        laid=_nth(0, at, "lay_up"), pulled=_nth(0, at, "pull"), before=_nth(1, at, "pull", "abandoned")
    )
    uses = {}
    for one in found:
        again = one.laid is None or (one.before is not None and one.before >= one.laid)
        last = max(filter(None, (one.laid, one.pulled)), default=None) if again else one.laid
        if last is not None:
            uses[one.pk] = last
    return uses


def _nth(place: int, at: datetime, *kinds: str) -> Subquery:
    """When the tool of the row had an entry of these kinds: the last before a moment, or the last but one."""
    uses = Entry.objects.filter(tool=OuterRef("pk"), kind__in=kinds, at__lt=at).standing()
    return Subquery(uses.order_by("-at", "-pk").values("at")[place : place + 1])
