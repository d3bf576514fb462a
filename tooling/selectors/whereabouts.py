"""Where tools were at a moment: in which mold, lent to whom, seen where, at home where nobody moved them."""

from collections.abc import Collection
from dataclasses import dataclass
from datetime import datetime

from django.db.models import OuterRef, Q, Subquery

from tooling.calc.entry import INSERT_KINDS
from tooling.models import Entry, Place, Summary, Tool


@dataclass(frozen=True, slots=True)
class Whereabouts:
    """Of one tool. `seen` without a place: somebody said that nobody knows where it is."""

    mold: Tool | None = None
    lent: bool = False
    lent_to: str = ""
    until: str = ""
    seen: bool = False
    place: Place | None = None
    home: Place | None = None

    @property
    def lost(self) -> bool:
        """Whether somebody said that nobody knows where it is."""
        return self.mold is None and not self.lent and self.seen and self.place is None

    @property
    def away(self) -> bool:
        """Whether it lies at a known place that is not its home."""
        elsewhere = self.place is not None and self.place != self.home
        return self.mold is None and not self.lent and self.home is not None and elsewhere


def of_summary(one: Summary) -> Whereabouts:
    """As the summary of a tool has it, which nothing has happened to since: its places and `loan` were read with it."""
    if one.lent:
        until = str((one.loan or {}).get("until") or "")  # type: ignore[attr-defined]
        return Whereabouts(one.in_mold_of, lent=True, lent_to=one.lent_to, until=until, home=one.home)
    seen = one.seen_at is not None
    return Whereabouts(one.in_mold_of, seen=seen, place=one.seen_place if seen else one.home, home=one.home)


def whereabouts(tools: Collection[int], at: datetime) -> dict[int, Whereabouts]:
    """By the key of each of these tools where it was at the moment, in three queries however long the histories are."""
    looked = Q(payload__seen__isnull=True) | Q(payload__seen=True)
    found = Tool.objects.filter(pk__in=tools).annotate(
        last_look=_last(at, looked, kind="moved"),
        last_home=_last(at, kind="moved", payload__home=True),
        last_loan=_last(at, kind__in=("lent", "handed_back")),
        last_stay=_last(at, kind__in=INSERT_KINDS),
    )
    rows = list(found.values_list("pk", "place_id", "last_look", "last_home", "last_loan", "last_stay"))
    entries = Entry.objects.select_related("mold").in_bulk({key for _pk, _place, *keys in rows for key in keys if key})
    at_home = {pk: _place(entries.get(home), begun) for pk, begun, _look, home, *_more in rows}
    seen_at = {pk: _place(entries.get(look)) for pk, _begun, look, *_more in rows}
    places = Place.objects.in_bulk({key for of in (at_home, seen_at) for key in of.values() if key is not None})
    return {
        pk: _one(
            entries.get(look), entries.get(loan), entries.get(stay),
            places.get(seen_at[pk] or 0), places.get(at_home[pk] or 0),
        )
        for pk, _begun, look, _home, loan, stay in rows
    }  # fmt: skip


def _one(
    look: Entry | None, loan: Entry | None, stay: Entry | None, place: Place | None, home: Place | None
) -> Whereabouts:
    mold = stay.mold if stay is not None and stay.kind == "installed" else None
    # Lent until it is handed back, or seen somewhere again.
    if loan is not None and loan.kind == "lent" and (look is None or look.at <= loan.at):
        person, until = (str(loan.payload.get(name) or "") for name in ("person", "until"))
        return Whereabouts(mold, lent=True, lent_to=person, until=until, home=home)
    return Whereabouts(mold, seen=look is not None, place=place if look is not None else home, home=home)


def _place(entry: Entry | None, begun: int | None = None) -> int | None:
    return begun if entry is None else entry.payload.get("place")


def _last(at: datetime, *which: Q, **also: object) -> Subquery:
    """The key of a tool's last standing entry of a kind until then."""
    entries = Entry.objects.filter(*which, tool=OuterRef("pk"), at__lte=at, **also).standing()
    return Subquery(entries.order_by("-at", "-pk").values("pk")[:1])
