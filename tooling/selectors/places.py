"""One place: what it lies in, what lies there, what has its home there, and what its load is made of."""

from dataclasses import dataclass
from difflib import get_close_matches

from django.db.models import QuerySet

from tooling.models import Place, Summary, tidy_code
from tooling.selectors.loads import lying
from tooling.selectors.place_tree import above
from tooling.selectors.rack import RackDrawing, Shelf, elsewhere, racks_of, shelves
from tooling.selectors.tools import OFFERED, bare_code


@dataclass(frozen=True, slots=True)
class PlacePage:
    """One place: what it lies in, from the outside; itself; the racks in it, itself first where it is one.

    Of its load: the mold inserts in the molds on it, and what lies directly within it.
    """

    above: list[Place]
    shelf: Shelf
    racks: list[RackDrawing]
    has_places: bool
    inserts: list[Summary]
    parts: list[Shelf]

    @property
    def is_drawn(self) -> bool:
        """Whether there is anything to draw."""
        return self.has_places or bool(self.shelf.drawn)


def page(code: str) -> PlacePage | None:
    """The page of the place of that code or older code; None where there is none."""
    place = Place.objects.called(code).first()
    if place is None:
        return None
    here, *inner = shelves(place)
    parts = [one for one in inner if one.place.parent_id == place.pk]
    inserts = list(_inserts_at(place)) if here.load.inserts_kg or here.load.unweighed else []
    return PlacePage(above(place), here, racks_of([here, *inner]), bool(inner), inserts, parts)


def near(code: str) -> list[Place]:
    """Places whose code is nearly the one that was asked for, the nearest first."""
    known = {bare_code(one): one for one in Place.objects.values_list("code", flat=True)}
    found = [known[one] for one in get_close_matches(bare_code(tidy_code(code)[:100]), known, n=OFFERED)]
    places = Place.objects.in_bulk(found, field_name="code")
    return [places[one] for one in found]


def lying_at(place: Place) -> QuerySet[Summary]:
    """What lies at a place itself, in code order, with each tool's home."""
    return lying().filter(lies=place.pk).select_related("tool", "home").order_by("tool__code")


def _inserts_at(place: Place) -> QuerySet[Summary]:
    """The mold inserts in the molds on a place itself."""
    inside = lying().filter(in_mold_of__summary__lies=place.pk, in_mold_of__summary__retired=False)
    return inside.select_related("tool", "in_mold_of").defer("state").order_by("tool__code")


def at_home_but_elsewhere(place: Place) -> QuerySet[Summary]:
    """What has its home at a place and is not there, in use or not, with where it is."""
    return elsewhere([place.pk]).select_related("tool", "home", "seen_place", "in_mold_of").order_by("tool__code")
