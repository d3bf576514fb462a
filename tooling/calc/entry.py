"""One fact in a tool's history, as plain values, and the words that it may use."""

from collections.abc import Hashable
from dataclasses import dataclass
from datetime import datetime

CAME_OFF = ("free", "light", "tight", "stuck", "lost")  # from best to worst: the order is the severity
HARD = ("tight", "stuck", "lost")
AREAS = ("whole", "flange", "spot")
CAUSES = ("release", "undercut", "temperature", "laminate", "handling", "unknown")
FAULTS = ("pre_release", "fish_eye", "drag", "dull")
COAT_REASONS = ("count", "tight", "idle", "came_off", "other")
# How a cut against a trim mask went, where it did not go well; an empty word is a good one.
OUTCOMES = ("gouged", "slipped", "off_size")
# What is done to a tool that is in the making.
WORKS = ("machining", "skin", "filler", "primer", "sanding", "gel_coat", "laminate", "frame", "other")
# After these the trim mask itself may be marked.
SPOILING = ("gouged", "slipped")
PREPARED = ("yes", "no", "unknown")
COUNT_RANGE = (1, 500)

# Not the release agent's doing: such a tight pull says nothing about the coat (an undercut part is always tight).
NOT_RELEASE_CAUSES = ("undercut", "laminate", "handling")

# What a mold does together with the inserts installed in it.
USE_KINDS = frozenset({"lay_up", "lay_up_done", "abandoned", "pull"})
# What makes a part: those, and a cut against a trim mask.
MADE_KINDS = USE_KINDS | {"used"}

RELEASE_KINDS = USE_KINDS | {
    "sealer", "coat", "film", "strip", "repair", "polish", "resurfaced", "clean", "build_up", "release_check",
    "wax_wanted", "inspected", "hold", "interval", "release_system", "starting_state", "retired", "reinstated",
}  # fmt: skip
INSERT_KINDS = frozenset({"installed", "removed"})
OTHER_KINDS = frozenset({"accepted", "making", "moved", "lent", "handed_back", "reading", "used", "check", "note"})
VOID = "void"
KINDS = RELEASE_KINDS | INSERT_KINDS | OTHER_KINDS | {VOID}

# Deeds that handle the surface itself: odd while a part lies in the mold.
WORK_KINDS = frozenset({"sealer", "coat", "film", "strip", "repair", "polish", "resurfaced", "clean"})


@dataclass(slots=True, eq=False)
class Entry:
    """One fact. `id` is the shop-wide recording number; `tool`, `mold` and `surface` are keys of tools.

    Not frozen, because a million of them are built at a time and frozen slots cost three times as much;
    nothing in this package writes to one.
    """

    id: int
    tool: Hashable
    kind: str
    at: datetime
    recorded_at: datetime | None = None
    count: int | None = None
    area: str = "whole"
    came_off: str = ""
    film: bool | None = None
    part: str = ""
    serial: str = ""
    release_system: str = ""
    earliest_pull: datetime | None = None
    cause: str = ""
    tool_damaged: bool = False
    surface: Hashable = None
    passed: bool | None = None
    by: Hashable = None
    mold: Hashable = None
    replaces: int | None = None
    voids: int | None = None
    prepared: str = ""
    pulls_since_coat: int | None = None
    touch_ups: int | None = None
    total_pulls: int | None = None


def severity(came_off: str) -> int:
    """How bad a pull was: 0 (free) to 4 (lost), and -1 where nobody said.

    Parameters:
        came_off [word]: one of CAME_OFF, or "" where nobody said.

    Returns:
        [-] the place of the word in CAME_OFF, or -1.
    """
    return CAME_OFF.index(came_off) if came_off else -1


def part_key(part: str) -> str:
    """A part's number as it is compared: without regard to case and outer spaces.

    Parameters:
        part [text]: the number as it was typed.

    Returns:
        [text] the number to compare by.
    """
    return part.strip().upper()
