"""What a column of the shop's may be: a column of ours, one in another unit, or what is known of a tool's past."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import UTC
from decimal import Decimal
from difflib import SequenceMatcher

from django.core.exceptions import ValidationError

from shared.errors import Refused
from tooling.calc.entry import PREPARED
from tooling.services.sheets import cells
from tooling.services.sheets.registry import sheets
from tooling.services.sheets.table import Column, Sheet

TOOLS, HISTORY, PLACES = "tools", "history", "places"
# Beside a tool in the shop's list stands how often it was pulled since when: its starting state.
START = (
    Column("last_coat", cells.INSTANT),
    Column("pulls_since_coat", cells.whole(0)),
    Column("touch_ups", cells.whole(0)),
    Column("total_pulls", cells.whole(0)),
    Column("prepared", cells.word(*PREPARED)),
)
START_NAMES = tuple(column.name for column in START)
_UNITS = {"_kg": ("kg", "lb"), "_mm": ("mm", "in"), "_c": ("°C", "°F")}
# What only an export writes means nothing in a shop's own list: nobody is offered it.
_NOT_THEIRS = frozenset({"number", "replaces", "voids", "recorded_at", "recorded_by", "wiped_at", "wiped_by"})
# Words of the trade by which shops call these columns.
_CALLED = {
    "code": ("no", "number", "tool no", "mold no", "tag", "id", "tool", "mold", "tool id"),
    "name": ("description", "desc", "what", "what it is", "title", "mold name", "tool name"),
    "kind": ("type", "sort", "tool type"),
    "place": ("location", "loc", "lives", "rack", "shelf", "where", "home", "stored"),
    "release_system": ("wax", "release", "release agent", "recipe", "release recipe"),
    "made_from": ("plug", "pattern", "from"),
    "in_place_of": ("replaces", "replacement for", "successor of", "instead of"),
    "mass_kg": ("weight", "mass"),
    "length_mm": ("length", "long", "l"),
    "width_mm": ("width", "wide", "w"),
    "height_mm": ("height", "high", "h"),
    "construction": ("material", "built of", "laminate"),
    "built_on": ("built", "made on", "date made", "made"),
    "owner": ("customer", "belongs to"),
    "note": ("notes", "remarks", "comment", "comments"),
    "last_coat": ("last waxed", "last wax", "waxed", "waxed on", "last coat", "last release", "date waxed"),
    "pulls_since_coat": ("pulls since", "pulls since wax", "since wax", "since coat", "pulls since coat"),
    "total_pulls": ("pulls", "total pulls", "all pulls", "pull count", "parts made", "lifetime pulls"),
    "aliases": ("old code", "old codes", "also called", "old number"),
    "number": ("part", "part no", "part number"),
    "parent": ("in", "within", "belongs in"),
    "max_load_kg": ("carries", "max", "max load", "load"),
    "revision": ("rev",),
    "cure_c": ("cure temp", "cure temperature"),
    "tool": ("mold", "code", "mold no", "tool no"),
    "at": ("date", "when", "day"),
    "entry": ("what", "deed", "event", "done"),
    "came_off": ("how was it", "how it came off", "release"),
    "by": ("who", "hand", "initials"),
}
_CALLED_IN = {(PLACES, "code"): ("rack", "shelf", "place")}
_SHEETS_CALLED = {
    TOOLS: ("mold", "tool", "plug", "insert"),
    PLACES: ("rack", "place", "shelf", "shelves"),
    "parts": ("part",),
    HISTORY: ("history", "log", "pulls", "diary"),
}
# What a shop calls its own list of plugs says of each what ours, of how plugs sat, does not.
_LISTS_OF_TOOLS = {"plugs": frozenset({"code", "name", "tag", "description"})}
_NEAR = 0.78
_ANY = cells.Frame(UTC)


@dataclass(frozen=True, slots=True)
class Target:
    """What a column of theirs is: a column of one of our sheets, with the unit that bare numbers are in there."""

    name: str
    column: Column
    unit: str = ""
    is_start: bool = False
    is_value: bool = False  # a day or a number
    may_lack: bool = False  # of a tool, where what it says can stay in the note


def sheet_called(name: str) -> Sheet | None:
    """Our sheet of that name."""
    return next((sheet for sheet in sheets() if sheet.name == name), None)


def called_as_ours(name: str, keys: Iterable[str]) -> Sheet | None:
    """Our sheet of that name, unless its columns tell that it is a list of the tools themselves."""
    tells = _LISTS_OF_TOOLS.get(name, frozenset())
    return sheet_called(name) if tells.isdisjoint(keys) else None


def targets(sheet: str) -> dict[str, Target]:
    """All that a column of theirs may be in that sheet of ours, by name, in the order of a list to choose from."""
    ours = sheet_called(sheet)
    found: dict[str, Target] = {}
    for column in ours.columns if ours else ():
        units = next((pair for ending, pair in _UNITS.items() if column.name.endswith(ending)), None)
        for unit in units or ("",):
            name = column.name if not units or unit == units[0] else f"{column.name} in {unit}"
            is_value = _is_value(column)
            found[name] = Target(name, column, unit, False, is_value, is_value and sheet == TOOLS)
    if sheet == TOOLS:
        for column in START:
            is_value = _is_value(column)
            found[column.name] = Target(column.name, column, "", True, is_value, is_value)
    return found


def _is_value(column: Column) -> bool:
    if column.kind in (cells.DATE, cells.INSTANT):
        return True
    try:
        return isinstance(column.kind.read("1", _ANY), int | Decimal)
    except (Refused, ValidationError):
        return False


def offered(sheet: str) -> list[str]:
    """Those of them that somebody may choose."""
    return [name for name in targets(sheet) if sheet != HISTORY or name not in _NOT_THEIRS]


def exact(sheet: str, key: str) -> str:
    """The column of ours that is called just so; "" where there is none."""
    ours = sheet_called(sheet)
    return key if ours and any(column.name == key for column in ours.columns) else ""


def likely(sheet: str, titles: list[tuple[str, str]]) -> dict[str, str]:
    """For columns of theirs, as key and title: what each most likely is, none of ours twice."""
    scored = [
        (_likeness(sheet, title, name), -place, key, name)
        for place, (key, title) in enumerate(titles)
        for name in offered(sheet)
        if (sheet, name) != (HISTORY, "mold")  # which an insert is installed in: a list says mold of the tool
    ]
    found: dict[str, str] = {}
    taken: set[str] = set()
    for score, _place, key, name in sorted(scored, reverse=True):
        column = name.partition(" in ")[0]
        if score >= _NEAR and key not in found and column not in taken:
            found[key] = name
            taken.add(column)
    return found


def likely_sheet(title: str, keys: list[str]) -> str:
    """Which sheet of ours theirs most likely is, by its name, else by those of its columns."""
    bare = cells.folded(title)
    for sheet in sheets():
        if bare.rstrip("s") == sheet.name.rstrip("s") and called_as_ours(sheet.name, keys):
            return sheet.name
    for ours, words in _SHEETS_CALLED.items():
        if any(word in bare.split("_") or f"{word}s" in bare.split("_") for word in words):
            return ours
    fits = {sheet.name: len(likely(sheet.name, [(key, key) for key in keys])) for sheet in sheets()}
    best = max(fits, key=lambda name: (fits[name], name == TOOLS))
    return best if fits[best] >= 2 else ""


def _likeness(sheet: str, title: str, name: str) -> float:
    """How well a name of theirs stands for a column of ours, from 0 to 1."""
    bare, unit = _without_unit(title)
    column, _in, said = name.partition(" in ")
    if unit and _has_units(column) and (said or _si_of(column)) != unit:
        return 0
    if not unit and said:
        return 0
    called = {
        column.replace("_", " "),
        _bare_of(column),
        *_CALLED.get(column, ()),
        *_CALLED_IN.get((sheet, column), ()),
    }
    best = max(SequenceMatcher(None, bare, one).ratio() for one in called)
    return best + (0.01 if bare == column.replace("_", " ") else 0)


def _without_unit(title: str) -> tuple[str, str]:
    """A name without dots and its unit: weight and lb for “Weight (lb)”."""
    words = [word.strip("().,:#").casefold() for word in title.replace("_", " ").replace("(", " ").split()]
    symbols = {"kg": "kg", "lb": "lb", "lbs": "lb", "mm": "mm", "in": "in", "inch": "in", "inches": "in", "°f": "°F",
               "°c": "°C", "c": "°C", "f": "°F"}  # fmt: skip
    unit = symbols.get(words[-1], "") if len(words) > 1 else ""
    return " ".join(filter(None, words[:-1] if unit else words)), unit


def _has_units(column: str) -> bool:
    return any(column.endswith(ending) for ending in _UNITS)


def _si_of(column: str) -> str:
    return next((pair[0] for ending, pair in _UNITS.items() if column.endswith(ending)), "")


def _bare_of(column: str) -> str:
    ending = next((ending for ending in _UNITS if column.endswith(ending)), "")
    return column.removesuffix(ending).replace("_", " ") if ending else column.replace("_", " ")
