"""One filled row a sheet, for the form that a shop fills in: together they are a shop, and go in as they are."""

from collections.abc import Mapping
from datetime import date, datetime
from typing import Any

from django.utils.translation import gettext_lazy

Example = Mapping[str, Any]

_EXAMPLES: dict[str, list[Example]] = {
    "shop": [
        {
            "name": "Name of your shop",
            "week": "Mon-Thu 07:00-16:00, Fri 07:00-12:00",
            "closed_days": "2026-12-24, 2026-12-25",
            "hands": 4,
            "formal_records": "no",
            "retention_years": 10,
        }
    ],
    "release_systems": [
        {
            "code": "PASTE",
            "name": "Paste wax: set your own numbers",
            "family": "paste_wax",
            "coats_new": 6,
            "coats_again": 4,
            "pulls_between": 3,
            "touch_up_coats": 1,
            "coat_gap_minutes": 60,
            "cure_hours_preparation": 12,
        }
    ],
    "places": [{"code": "A-2", "name": "Rack A, shelf 2", "kind": "shelf", "height_mm": 1200, "max_load_kg": 150}],
    "counts": [
        {
            "number": 1,
            "place": "A-2",
            "begun_at": datetime(2026, 3, 2, 15, 0),  # noqa: DTZ001  (the zone is the shop's)
            "begun_by": "Whoever counted",
            "ended_at": datetime(2026, 3, 2, 15, 20),  # noqa: DTZ001  (the zone is the shop's)
            "ended_by": "Whoever counted",
        }
    ],
    "count_marks": [
        {
            "count": 1,
            "found": "unknown",
            "text": "what stood on the tag",
            "at": datetime(2026, 3, 2, 15, 10),  # noqa: DTZ001  (the zone is the shop's)
            "by": "Whoever counted",
        }
    ],
    "parts": [
        {
            "number": "DECK-2",
            "revision": "A",
            "name": "Deck, two hatches",
            "resin": "vinyl ester",
            "process": "hand lay-up",
            "layup_minutes": 90,
            "in_mold_hours": 16,
        }
    ],
    "tools": [
        {
            "code": "DECK-2A",
            "aliases": "OLD DECK 2",
            "kind": "mold",
            "name": "Deck mold, two hatches",
            "release_system": "PASTE",
            "place": "A-2",
            "mass_kg": 38.5,
            "lift": "two people, one at each end",
            "length_mm": 5200,
            "width_mm": 620,
            "built_on": date(2024, 5, 13),
            "inspect_every_pulls": 50,
            "note": "flange chipped at the stern",
        },
        {"code": "DECK-2-PLUG", "kind": "plug", "name": "Plug of the deck, two hatches", "place": "A-2"},
    ],
    "plugs": [
        {
            "tool": "DECK-2-PLUG",
            "base": "steel frame, four feet",
            "stock": "EPS block, epoxy skin",
            "machine": "router with a bed of 6 m",
            "tilt_deg": 12,
            "tilt_about": "long axis, port side up",
            "zero": "top of the dowel at the bow",
        }
    ],
    "milling_passes": [
        {"tool": "DECK-2-PLUG", "order": 1, "kind": "roughing", "cutter": "end mill 25", "step_down_mm": 20},
        {
            "tool": "DECK-2-PLUG",
            "order": 2,
            "kind": "finishing",
            "cutter": "ball nose 20",
            "ball_diameter_mm": 20,
            "step_over_mm": 0.8,
            "feed_mm_min": 6000,
            "width_mm": 620,
            "length_mm": 5200,
            "holder_diameter_mm": 50,
            "stickout_mm": 90,
            "wall_height_mm": 160,
            "wall_angle_deg": 70,
            "minutes_taken": 760,
        },
    ],
    "history": [
        {
            "tool": "DECK-2A",
            "at": datetime(2026, 3, 2, 9, 0),  # noqa: DTZ001  (the zone is the shop's)
            "entry": "starting_state",
            "prepared": "yes",
            "pulls_since_coat": 2,
            "total_pulls": 41,
            "note": "from the tape on the mold",
        }
    ],
    "tool_sets": [
        {"part": "DECK-2", "revision": "A", "role": "mold", "tool": "DECK-2A"},
        {"part": "DECK-2", "revision": "A", "role": "hardware", "item": "8 flange bolts M8", "required": "yes"},
    ],
    "wanted": [
        {
            "part": "DECK-2",
            "count": 2,
            "at": datetime(2026, 3, 2, 7, 30),  # noqa: DTZ001  (the zone is the shop's)
            "by": "Whoever wants it",
        }
    ],
    "making_steps": [
        {"kind": "mold", "order": 1, "name": "Laid up on the plug", "by_entry": "lay_up"},
        {"kind": "mold", "order": 2, "name": "Edges cut", "note": "eyes, ears, extraction"},
    ],
    "reading_limits": [
        {
            "kind": "mold",
            "quantity": "gloss",
            "unit": "GU",
            "geometry": "60°",
            "limit": 70,
            "worse": "down",
            "note": "a number of the shop’s own",
        }
    ],
    "checklists": [
        {"kind": "mold", "purpose": "look_over", "order": 1, "item": "Surface: no scratches, no dull patches"},
        {
            "kind": "mold",
            "purpose": "look_over",
            "order": 2,
            "item": "Gloss measured",
            "quantity": "gloss",
            "unit": "GU",
            "geometry": "60°",
            "spots": 3,
        },
    ],
    "rights": [{"person": "Whoever may free", "may": "free", "since": date(2026, 1, 1)}],
    "temperatures": [
        {
            "at": datetime(2026, 3, 2, 7, 40),  # noqa: DTZ001  (the zone is the shop's)
            "value_c": 20.5,
            "by": "Whoever read it",
        }
    ],
    "tags": [
        {
            "tool": "DECK-2A",
            "printed_at": datetime(2026, 3, 2, 9, 0),  # noqa: DTZ001  (the zone is the shop's)
            "printed_by": "Whoever printed it",
            "said_code": "DECK-2A",
            "said_home": "Rack A, shelf 2",
        }
    ],
    "tins": [
        {
            "open_at": "Name of the station",
            "release_system": "PASTE",
            "stuff": "coat",
            "lot": "14",
            "opened_at": datetime(2026, 3, 2, 8, 30),  # noqa: DTZ001  (the zone is the shop's)
        }
    ],
}


# What each sheet is, for whoever fills it in.
_SAYS: dict[str, Any] = {
    "shop": gettext_lazy("The shop itself, one row: its hours, its closed days, how many hands it has."),
    "reading_limits": gettext_lazy("The shop’s own limits of what is measured, of a kind of tool or of one."),
    "rights": gettext_lazy("Who may accept, free or approve, from which day to which."),
    "release_systems": gettext_lazy("Release recipes, with the numbers of your supplier’s data sheet."),
    "tins": gettext_lazy("The tin that is open at each station: its lot goes onto the coats."),
    "places": gettext_lazy("Rooms, racks and shelves where tools have their home."),
    "counts": gettext_lazy("Counts of racks and shelves: when, by whom. Only an empty shop takes them."),
    "count_marks": gettext_lazy("What a count met, missed, or did not know. Only an empty shop takes it."),
    "parts": gettext_lazy("What is made, one row a revision."),
    "tools": gettext_lazy("Plugs, molds, mold inserts and trim masks, as they were at the start of their histories."),
    "plugs": gettext_lazy("How each plug sat on the machine, so that the next one is set up alike."),
    "milling_passes": gettext_lazy("The passes that milled each plug, in their order: lengths in mm, feeds in mm/min."),
    "history": gettext_lazy("What happened to a tool, one row an entry; or its starting state alone."),
    "tool_sets": gettext_lazy("Which tools and hardware each revision of a part needs."),
    "tags": gettext_lazy("What stands on the tag that hangs on a tool."),
    "making_steps": gettext_lazy("In which steps tools of each kind are built."),
    "checklists": gettext_lazy("What is looked at on tools of each kind: between uses, and before the first."),
    "temperatures": gettext_lazy("What the thermometer of the shop said."),
    "wanted": gettext_lazy("Parts that are wanted, how many and for when."),
}


def register(sheet: str, *rows: Example, says: Any = "") -> None:
    """Adds rows to a sheet's example, and what the sheet is. An app that adds a sheet calls this when it is ready."""
    _EXAMPLES.setdefault(sheet, []).extend(rows)
    if says:
        _SAYS[sheet] = says


def says_of(sheet: str) -> str:
    """What a sheet is, in a sentence."""
    return str(_SAYS[sheet])


def examples_of(sheet: str) -> list[Example]:
    """The filled rows of a sheet."""
    return _EXAMPLES.get(sheet, [])
