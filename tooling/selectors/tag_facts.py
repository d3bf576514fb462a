"""What stands on the tags of tools now: read for the tags, and as plain text to be compared with what was printed."""

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal
from typing import Protocol

from shared.pieces import in_pieces
from shared.units import METRIC
from tooling.calc.check import FUTURE
from tooling.models import Place, RecipeVersion, Summary, TagWanted, Tool
from tooling.models.fields import plain
from tooling.selectors import tag_lines
from tooling.selectors.recipes import in_force
from tooling.selectors.service_limit import service_limits

# The home first: another one means that the tool was moved. Two homes may bear one name.
_HOME = ("home", "home_code")
_COLUMNS = ("code", "kind", "hand", "name", "mass_kg", "lift", "matched_set", "owner", "owner_ref")
SAID = (*_HOME, *_COLUMNS, "max_service_c", "family", "film", "retired", "more")

# So many at a time: a database takes no endless list of keys.
_AT_ONCE = 500


@dataclass(frozen=True, slots=True)
class OnTag:
    """What the tag of a tool is made of. `hottest`: in °C, the lowest of the maker's number and of the fillers in it.

    `family` of the recipe in force and whether it has a `film` say the caution and what the gates count.
    `more`: lines of other apps.
    """

    tool: Tool
    home: Place | None
    hottest: Decimal | None
    family: str
    film: bool
    more: tuple[str, ...]


class Printed(Protocol):
    """What is known of the last tag of a tool."""

    said: dict[str, str]
    printed_at: datetime | None
    spoilt_at: datetime | None
    lost_at: datetime | None


def on_tags(tools: Iterable[int], at: datetime, system: str = METRIC) -> dict[int, OnTag]:
    """What stands on the tag of each of these tools, in their order; a few queries for many."""
    recipes, found = in_force(at), {}
    for keys in in_batches(tools):
        rows = Tool.objects.select_related("summary__home").in_bulk(keys)
        hottest = service_limits(keys, at, system)
        more: dict[int, list[str]] = defaultdict(list)
        for lines in tag_lines.registered():
            for key, line in lines(keys, system).items():
                more[key].append(line)
        for key in keys:
            if (tool := rows.get(key)) is not None:
                limit = hottest[key].celsius if key in hottest else None
                recipe = recipe_on(tool.summary, recipes) if tool.has_surface else None
                family = recipe.family if recipe is not None else "other"
                found[key] = OnTag(tool, tool.summary.home, limit, family, _has_film(recipe), tuple(more[key]))
    return found


def recipe_on(summary: Summary, recipes: dict[str, RecipeVersion]) -> RecipeVersion | None:
    """The version in force of the recipe that a surface is on."""
    return recipes.get(summary.state.get("system") or "")


def in_batches(keys: Iterable[int]) -> Iterable[Sequence[int]]:
    """Each key once, some hundred at a time."""
    return in_pieces(list(dict.fromkeys(keys)), _AT_ONCE)


def facts(tools: Iterable[int], at: datetime) -> dict[int, dict[str, str]]:
    """What a tag of each of these tools would say now, by the tool's key; numbers in kg and °C.

    Entries may be dated a little ahead, by a clock that is fast: nobody comes back to the list when it is that time.
    """
    return {key: _said(on) for key, on in on_tags(tools, at + FUTURE).items()}


def differs(said: dict[str, str], now: dict[str, str]) -> list[str]:
    """The names of what stands otherwise on the tag. Of what is not in `said` nobody knows how it stands there."""
    return [name for name in SAID if said.get(name, now[name]) != now[name]]


def why(tag: Printed, now: dict[str, str]) -> str:
    """Why another tag is wanted; "" where none is."""
    if tag.lost_at is not None:
        return TagWanted.LOST
    if tag.printed_at is None:
        return TagWanted.NEW
    if tag.spoilt_at is not None:
        return TagWanted.SPOILT
    other = differs(tag.said, now)
    if not other:
        return ""
    return TagWanted.MOVED if other[0] in _HOME else TagWanted.CHANGED


def _has_film(recipe: RecipeVersion | None) -> bool:
    return recipe is not None and (recipe.film_every_pull or recipe.film_first_pulls > 0)


def _said(on: OnTag) -> dict[str, str]:
    home = (on.home.name, on.home.code) if on.home is not None else ("", "")
    columns = (_text(getattr(on.tool, name)) for name in _COLUMNS)
    film, retired = ("yes" if so else "" for so in (on.film, on.tool.summary.retired))
    rest = (_text(on.hottest), on.family, film, retired, "\n".join(on.more))
    return dict(zip(SAID, (*home, *columns, *rest), strict=True))


def _text(value: object) -> str:
    if isinstance(value, Decimal):
        return f"{plain(value):f}"
    return "" if value is None else str(value)
