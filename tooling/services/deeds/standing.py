"""Whether the tool may be used at all, by which recipe and number, and how its record begins."""

from datetime import datetime
from typing import Unpack

from tooling.models import Entry, Summary, Tool
from tooling.services.deeds.base import Defects, Said
from tooling.services.ledger import record
from tooling.services.standing_rules import refuse_before_hold, refuse_writer


def hold(tool: Tool, *, reason: str = "", defects: Defects = "", **said: Unpack[Said]) -> Entry:
    """Stop: not to be used until someone has looked. `defects`: lines of `calc.defect_lines`."""
    return record(tool, "hold", reason=reason, defects=defects, **said)


def inspect(
    tool: Tool,
    *,
    passed: bool,
    checklist: int | None = None,
    answers: str = "",
    defects: Defects = "",
    to_free: bool = False,
    **said: Unpack[Said],
) -> Entry:
    """Looked at: passed frees the tool of every hold, not passed holds it.

    checklist: the version that was gone through; answers: lines of `calc.answers`; defects: of `calc.defect_lines`.
    to_free: somebody means to free what holds it now, so that a pass from before all of that is refused; and with
    formal records one that whoever held it writes down in another name.
    """

    def unless(summary: Summary, now: datetime) -> None:
        if passed and to_free:
            refuse_before_hold(summary, said.get("at"), now, said.get("ago"))
            refuse_writer(summary, said.get("by"), said.get("recorded_by"), said.get("at") or now)

    return record(
        tool,
        "inspected",
        unless=unless,
        passed=passed,
        checklist=checklist,
        answers=answers,
        defects=defects,
        **said,
    )


def set_interval(tool: Tool, *, count: int | None, part: str = "", evidence: str = "", **said: Unpack[Said]) -> Entry:
    """The tool's own number of pulls between coats, or one part's; None gives the recipe's back."""
    return record(tool, "interval", count=count, part=part, evidence=evidence, **said)


def change_release_system(tool: Tool, *, release_system: str, **said: Unpack[Said]) -> Entry:
    """Another release recipe from now on."""
    return record(tool, "release_system", release_system=release_system, **said)


def set_starting_state(
    tool: Tool,
    *,
    prepared: str = "unknown",
    pulls_since_coat: int | None = None,
    touch_ups: int | None = None,
    total_pulls: int | None = None,
    **said: Unpack[Said],
) -> Entry:
    """What is known of a tool whose past was not recorded."""
    return record(
        tool,
        "starting_state",
        prepared=prepared,
        pulls_since_coat=pulls_since_coat,
        touch_ups=touch_ups,
        total_pulls=total_pulls,
        **said,
    )


def retire(tool: Tool, *, reason: str = "", **said: Unpack[Said]) -> Entry:
    """Taken out of use for good."""
    return record(tool, "retired", reason=reason, **said)


def reinstate(tool: Tool, *, reason: str = "", **said: Unpack[Said]) -> Entry:
    """Brought back, bare, and held until it has been looked at."""
    return record(tool, "reinstated", reason=reason, **said)
