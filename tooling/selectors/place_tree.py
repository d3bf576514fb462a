"""Places as a tree: what lies within which, from the outside and from the top."""

from collections import defaultdict
from collections.abc import Iterable, Mapping
from decimal import Decimal

from shared.natural import natural
from tooling.models import Place

# The key of each place and of the one that it lies in.
Parents = Mapping[int, int | None]


def parents() -> dict[int, int | None]:
    """All places, each with what it lies in."""
    return dict(Place.objects.values_list("pk", "parent_id"))


def within(tree: Parents, places: Iterable[int]) -> set[int]:
    """The keys of these places and of all that lie within them."""
    inside: dict[int | None, list[int]] = defaultdict(list)
    for place, parent in tree.items():
        inside[parent].append(place)
    found: set[int] = set()
    todo = list(places)
    while todo:
        if (place := todo.pop()) not in found:
            found.add(place)
            todo += inside[place]
    return found


def upward(tree: Parents, place: int) -> list[int]:
    """The keys of a place and of those it lies in, itself first."""
    chain: list[int] = []
    key: int | None = place
    while key is not None and key not in chain:
        chain.append(key)
        key = tree.get(key)
    return chain


def below(places: Iterable[int]) -> set[int]:
    """The same as `within`, of all places that there are."""
    return within(parents(), places)


def above(place: Place) -> list[Place]:
    """What a place lies in, from the outside."""
    chain = upward(parents(), place.pk)[1:]
    known = Place.objects.in_bulk(chain)
    return [known[pk] for pk in reversed(chain)]


def in_order(places: Iterable[Place]) -> list[tuple[Place, int]]:
    """Depth first, children from the top; what would hang in a loop stands at the end, so that nothing is lost."""
    known = sorted(places, key=_from_the_top)
    keys = {place.pk for place in known}
    children: dict[int | None, list[Place]] = {}
    for place in known:
        children.setdefault(place.parent_id if place.parent_id in keys else None, []).append(place)
    found: list[tuple[Place, int]] = []
    todo = [(place, 0) for place in reversed(children.pop(None, []))]
    while todo:
        place, depth = todo.pop()
        found.append((place, depth))
        todo += [(child, depth + 1) for child in reversed(children.pop(place.pk, []))]
    return found + [(place, 0) for rest in children.values() for place in rest]


def _from_the_top(place: Place) -> tuple[bool, Decimal, tuple[tuple[int, str], ...]]:
    """The highest first; those of which nobody said how high, by code: C-2 before C-10."""
    return place.height_mm is None, -(place.height_mm or Decimal(0)), natural(place.code)
