"""What the tags of tools, of places and of held tools say, in a person's units: a few queries for thousands of them."""

from collections.abc import Iterable, Sequence
from datetime import datetime

from shared.units import METRIC
from tooling.drawing.tags.facts import HeldTag, Line, Piece, PlaceTag, ToolTag
from tooling.models import Place, Shop, Summary, Tool
from tooling.selectors.holds import standing_holds
from tooling.selectors.recipes import in_force
from tooling.selectors.tag_facts import OnTag, in_batches, on_tags, recipe_on
from tooling.words import on_tags as words

__all__ = ["HeldTag", "PlaceTag", "ToolTag", "held_tags", "place_tags", "tool_tags"]


def tool_tags(tools: Iterable[int], at: datetime, system: str = METRIC) -> dict[int, ToolTag]:
    """The tags of the tools of these keys, in their order."""
    return {key: _tool_tag(on, system) for key, on in on_tags(tools, at, system).items()}


def place_tags(places: Iterable[int], system: str = METRIC) -> dict[int, PlaceTag]:
    """The tags of the places of these keys, in their order."""
    found: dict[int, PlaceTag] = {}
    for keys in in_batches(places):
        rows = Place.objects.select_related("parent").in_bulk(keys)
        found |= {key: _place_tag(rows[key], system) for key in keys if key in rows}
    return found


def held_tags(tools: Iterable[int], at: datetime) -> dict[int, HeldTag]:
    """The tags to hang on those tools of these keys that are held; the holds that stand, the first first."""
    shop, recipes = Shop.current(), in_force(at)
    found: dict[int, HeldTag] = {}
    for keys in in_batches(tools):
        held = Summary.objects.filter(tool__in=Tool.objects.held().filter(pk__in=keys))
        summaries = {one.tool_id: one for one in held.select_related("tool", "held_by")}
        standing = standing_holds([(one, recipe_on(one, recipes)) for one in summaries.values()])
        for key in keys:
            if (one := summaries.get(key)) is not None and one.held_since is not None:
                reasons = [words.reason(hold, shop.zone) for hold in standing.get(key, ())]
                noted = words.noted(one.held_note, one.held_since, one.held_by, shop.zone)
                found[key] = words.held(one.tool.code, one.tool.name, reasons or [noted], formal=shop.formal_records)
    return found


def _tool_tag(on: OnTag, system: str) -> ToolTag:
    tool, home = on.tool, on.home
    what = [words.kind(tool.kind, tool.hand), *(words.home(home.name, home.code) if home is not None else ())]
    weight = [words.weight(tool.mass_kg, system, tool.as_typed.get("mass_kg"))] if tool.mass_kg is not None else []
    retired = tool.summary.retired
    lines: list[Sequence[Piece]] = [
        [words.retired()] if retired else [],
        what,
        *([Piece("more", "", line)] for line in on.more),
        [words.matched_set(tool.matched_set)] if tool.matched_set else [],
        words.owner(tool.owner, tool.owner_ref),
        [words.hottest(on.hottest, system)] if on.hottest is not None else [],
        [*weight, words.lift(tool.lift) if tool.lift.strip() else words.no_lift()],
    ]
    caution = words.caution(tool.kind, on.family, film=on.film)
    pulls = words.pulls(on.family) if tool.has_surface and not retired else ""
    return ToolTag(tool.code, tool.kind, tool.name, _full(lines), caution, pulls)


def _place_tag(place: Place, system: str) -> PlaceTag:
    lines: list[Sequence[Piece]] = [
        [words.within(place.parent.name)] if place.parent is not None else [],
        [words.height(place.height_mm, system, place.as_typed.get("height_mm"))] if place.height_mm is not None else [],
    ]
    return PlaceTag(place.code, place.name, _full(lines), _load(place, system))


def _load(place: Place, system: str) -> str:
    """What it carries; a whole room or rack, which lies in nothing and has no height, is no board to put things on."""
    if place.max_load_kg is not None:
        return words.load(place.max_load_kg, system)
    return words.no_load() if place.height_mm is not None or place.parent is not None else ""


def _full(lines: Iterable[Sequence[Piece]]) -> tuple[Line, ...]:
    return tuple(tuple(line) for line in lines if line)
