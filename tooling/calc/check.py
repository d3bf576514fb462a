"""What is refused at entry. Everything else that happened is accepted, and flagged where it was a mistake."""

from collections.abc import Hashable, Iterable, Mapping, Sequence
from datetime import datetime, timedelta

from tooling.calc.entry import (
    AREAS,
    CAME_OFF,
    CAUSES,
    COAT_REASONS,
    COUNT_RANGE,
    FAULTS,
    KINDS,
    PREPARED,
    VOID,
    Entry,
)

# A clock on a phone may run a little ahead.
FUTURE = timedelta(minutes=5)

_WORDS: Mapping[str, Sequence[str]] = {
    "area": AREAS, "came_off": CAME_OFF, "cause": CAUSES, "fault": FAULTS, "prepared": PREPARED,
}  # fmt: skip
_NEEDS_PASSED = ("inspected", "release_check", "check")
# Of a starting state: as many as a tally can show of one preparation, and as many as a tool can live through
MOST = {"pulls_since_coat": 500, "touch_ups": 500, "total_pulls": 1_000_000}


class Refusal(ValueError):
    """Why an entry cannot be written. `code` names the rule, `field` the field, `values` what the sentence needs."""

    def __init__(self, code: str, field: str = "", **values: object) -> None:
        """Keeps the rule, the field and the values of the sentence."""
        super().__init__(code)
        self.code = code
        self.field = field
        self.values = values


def check_alone(entry: Entry, now: datetime, fault: str = "", reason: str = "") -> None:
    """Checks what can be seen from the entry by itself.

    Parameters:
        entry [-]: the entry that is to be written.
        now [UTC]: the present moment.
        fault [word]: what was seen on the part; "" where nothing was said.
        reason [word]: why a coat went on; "" where nothing was said. Free words on any other kind.

    Raises:
        Refusal: for an unknown word, a count out of range, a time without a zone or in the future.

    Source: the house's own rules of release.
    """
    if entry.kind not in KINDS:
        raise Refusal("unknown_kind", "entry", word=entry.kind, words=sorted(KINDS))
    if entry.at.tzinfo is None:
        raise Refusal("no_zone", "at")
    if entry.at > now + FUTURE:
        raise Refusal("future", "at")
    if entry.count is not None and not COUNT_RANGE[0] <= entry.count <= COUNT_RANGE[1]:
        raise Refusal("count_range", "count", least=COUNT_RANGE[0], most=COUNT_RANGE[1], count=entry.count)
    for field, words in _WORDS.items():
        word = fault if field == "fault" else getattr(entry, field)
        if word and word not in words:
            raise Refusal("unknown_word", field, word=word, words=words)
    if entry.kind == "coat" and reason and reason not in COAT_REASONS:
        raise Refusal("unknown_word", "reason", word=reason, words=COAT_REASONS)
    if entry.came_off and entry.kind != "pull":
        raise Refusal("came_off_on_other", "came_off")
    if entry.kind in _NEEDS_PASSED and entry.passed is None:
        raise Refusal("passed_missing", "passed")
    for field, most in MOST.items():
        number = getattr(entry, field)
        if number is not None and number < 0:
            raise Refusal("below_zero", field, number=number)
        if number is not None and number > most:
            raise Refusal("too_many", field, number=number, most=most)


def check_target(entry: Entry, target: Entry | None, log: Iterable[Entry]) -> None:
    """Checks what a void or a correction is aimed at.

    Parameters:
        entry [-]: the void, or the entry that replaces another.
        target [-]: the entry that it names; None where there is none of that number.
        log [-]: all entries of the entry's own tool, this one not among them.

    Raises:
        Refusal: where the target is missing, of another tool, itself a void, or already void or replaced.
    """
    field = "voids" if entry.kind == VOID else "replaces"
    if target is None:
        raise Refusal("target_missing", field)
    if target.tool != entry.tool:
        raise Refusal("target_of_other_tool", field)
    if target.kind == VOID:
        raise Refusal("target_is_void", field)
    if any(target.id in (one.voids, one.replaces) for one in log):
        raise Refusal("target_gone", field)


def check_one_start(entry: Entry, standing: Iterable[Entry]) -> None:
    """Checks that no second starting state stands beside another; one may replace one.

    Parameters:
        entry [-]: the entry that is to be written.
        standing [-]: the standing entries of its tool, voided and replaced ones left out.

    Raises:
        Refusal: where another starting state stands.
    """
    if entry.kind == "starting_state" and any(e.kind == "starting_state" and e.id != entry.replaces for e in standing):
        raise Refusal("second_start", "entry")


def check_surface(entry: Entry, reaches: Iterable[Hashable]) -> None:
    """Checks that the surface named by a pull is the tool itself or an insert that the pull reaches.

    Parameters:
        entry [-]: the entry that is to be written.
        reaches [key]: the inserts that it reaches.

    Raises:
        Refusal: where the surface is neither.
    """
    if entry.surface is not None and entry.surface != entry.tool and entry.surface not in set(reaches):
        raise Refusal("surface_not_reached", "surface")


def check_other_system(entry: Entry, in_force: str | None) -> None:
    """Checks that a change of recipe changes something.

    Parameters:
        entry [-]: the release_system that is to be written.
        in_force [code]: the recipe in force at its place; None where there is none.

    Raises:
        Refusal: where it is the recipe in force.
    """
    if entry.kind == "release_system" and entry.release_system == in_force:
        raise Refusal("same_system", "release_system", system=in_force)
