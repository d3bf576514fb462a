"""What places carry as far as masses are known, and whether a move would put one over its limit."""

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal

from django.db.models import Count, Q, QuerySet, Sum

from tooling.models import Place, Summary, Tool
from tooling.models.fields import plain
from tooling.selectors.place_tree import upward, within


@dataclass(frozen=True, slots=True)
class Load:
    """What a place carries as far as masses are known: the tools on it, mold inserts in these, all that lies below."""

    own_kg: Decimal = Decimal(0)
    inserts_kg: Decimal = Decimal(0)
    below_kg: Decimal = Decimal(0)
    unweighed: int = 0
    # Tools that lie on the place itself.
    count: int = 0

    @property
    def kg(self) -> Decimal:
        """All of it."""
        return self.own_kg + self.inserts_kg + self.below_kg

    @property
    def summed(self) -> bool:
        """Whether it is more than the masses of the tools that lie there."""
        return bool(self.inserts_kg or self.below_kg)

    def with_below(self, below: "Load") -> "Load":
        """The same with what a place within it carries."""
        return replace(self, below_kg=self.below_kg + below.kg, unweighed=self.unweighed + below.unweighed)


@dataclass(frozen=True, slots=True)
class Over:
    """A place that a move would put over its limit: what it carries now and then, and how much of it has no mass."""

    place: Place
    kg_now: Decimal
    kg_then: Decimal
    limit_kg: Decimal
    unweighed: int


def lying() -> QuerySet[Summary]:
    """The summaries of all tools that are not retired; `lies` is the key of the place where each is."""
    return Summary.objects.filter(retired=False)


def each(branch: Iterable[int] | None = None) -> dict[int, Load]:
    """What each place carries itself, without those within it, in two queries; None: every place."""
    found = {row["lies"]: Load(_kg(row), unweighed=row["unweighed"], count=row["n"]) for row in _on_them(branch)}
    for row in _in_molds(branch):
        on_it = found.get(row["in_mold_of__summary__lies"], Load())
        more = replace(on_it, inserts_kg=_kg(row), unweighed=on_it.unweighed + row["unweighed"])
        found[row["in_mold_of__summary__lies"]] = more
    return found


def summed(in_tree: Sequence[tuple[Place, int]], loads: dict[int, Load]) -> dict[int, Load]:
    """What each place carries with those within it, of places in the order of the tree: the innermost first."""
    carried: dict[int, Load] = {}
    inside: dict[int | None, Load] = defaultdict(Load)
    for place, _depth in reversed(in_tree):
        carried[place.pk] = loads.get(place.pk, Load()).with_below(inside[place.pk])
        inside[place.parent_id] = inside[place.parent_id].with_below(carried[place.pk])
    return carried


def over(place: Place, tools: Sequence[Tool]) -> Over | None:
    """The place, or the next above it, that these tools would put over its limit, with the mold inserts in them.

    What lies there already adds nothing, a mold insert in a mold goes where the mold goes, and without a mass nobody
    knows. As many queries for many tools as for one, and one alone where nothing has a limit.
    """
    places = Place.objects.in_bulk()
    tree = {one.pk: one.parent_id for one in places.values()}
    limited = [places[key] for key in upward(tree, place.pk) if places[key].max_load_kg is not None]
    if not limited or not tools:
        return None
    loads, moved = each(within(tree, [limited[-1].pk])), _weighed(tools)
    for one in limited:
        there = within(tree, [one.pk])
        now = sum((loads[key].kg for key in there if key in loads), Decimal(0))
        coming = [kg for lies, kg in moved if lies not in there]
        then = now + sum((kg for kg in coming if kg is not None), Decimal(0))
        if now < then and one.max_load_kg < then:
            unweighed = sum(loads[key].unweighed for key in there if key in loads) + coming.count(None)
            return Over(one, now, plain(then), one.max_load_kg, unweighed)
    return None


def _weighed(tools: Sequence[Tool]) -> list[tuple[int | None, Decimal | None]]:
    """Where the tools lie that would go, with the mold inserts in them, and what each weighs."""
    keys = [tool.pk for tool in tools]
    themselves = lying().filter(tool__in=keys, in_mold_of=None).values_list("lies", "tool__mass_kg")
    in_them = lying().filter(in_mold_of__in=keys, in_mold_of__summary__retired=False)
    return [*themselves, *in_them.values_list("in_mold_of__summary__lies", "tool__mass_kg")]


def _on_them(branch: Iterable[int] | None) -> Iterable[dict]:
    return _weights(lying(), "lies", branch)


def _in_molds(branch: Iterable[int] | None) -> Iterable[dict]:
    """What the inserts weigh that are in the molds at each place."""
    inside = lying().filter(in_mold_of__isnull=False, in_mold_of__summary__retired=False)
    return _weights(inside, "in_mold_of__summary__lies", branch)


def _weights(summaries: QuerySet[Summary], column: str, branch: Iterable[int] | None) -> Iterable[dict]:
    rows = at(summaries, column, branch).order_by().values(column)
    return rows.annotate(n=Count("pk"), kg=Sum("tool__mass_kg"), unweighed=Count("pk", filter=Q(tool__mass_kg=None)))


def at(summaries: QuerySet[Summary], column: str, branch: Iterable[int] | None) -> QuerySet[Summary]:
    """Those whose place is in a branch; None: any place."""
    known = {f"{column}__isnull": False} if branch is None else {f"{column}__in": list(branch)}
    return summaries.filter(**known)


def _kg(row: dict) -> Decimal:
    return plain(Decimal(str(row.get("kg") or 0)).quantize(Decimal("0.000001")))
