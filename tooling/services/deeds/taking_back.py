"""Taking back what one form wrote on several halves of a matched set: on each of them, or on none."""

from collections.abc import Sequence
from typing import Any
from uuid import UUID, uuid5

from tooling.models import Entry, Tool
from tooling.services.deeds.matched import all_or_none
from tooling.services.deeds.undo import correct, facts_of, gone_with, put_right, void

# What is one fact of the whole part; how it came off and what was seen is each half's own.
_OF_THE_PART = ("count", "film", "part", "serial", "earliest_pull", "reason")


def void_set(
    entry: Entry,
    *,
    others: Sequence[Entry] = (),
    right_tool: Tool | None = None,
    token: UUID | None = None,
    **about: Any,
) -> list[Entry]:
    """The entry never was, and neither were those of the other halves; `about` is what `void` is told.

    right_tool: the tool on which the entry is written instead, as `put_right` does.
    """

    def write() -> list[Entry]:
        if right_tool is None:
            first = void(entry, token=token, **about)
        else:
            first = put_right(entry, tool=right_tool, token=token, **about)
        return [first, *(void(one, token=_of(token, one), **about) for one in others)]

    tools = {one.tool for one in (entry, *others)} | ({right_tool} if right_tool is not None else set())
    tools |= {gone.tool for one in (entry, *others) for gone in gone_with(one)}
    return all_or_none(sorted(tools, key=lambda tool: tool.pk), write)


def correct_set(
    entry: Entry,
    *,
    others: Sequence[Entry] = (),
    changes: dict[str, Any],
    token: UUID | None = None,
    **said: Any,
) -> list[Entry]:
    """Another entry stands in the entry's place; what it changes of the whole part is changed on the other halves too.

    That is its time, its hands, the part, its serial, the count, the film. Where nothing of that is changed the other
    halves stay as they are.
    """
    stood = facts_of(entry)
    shared = {name: changes[name] for name in _OF_THE_PART if name in changes and _new(stood, name, changes)}
    kept = {name for name in ("at", "by") if said.get(name) == getattr(entry, name)}
    about = {name: value for name, value in said.items() if name not in kept and name != "note"}
    touched = others if shared or about.keys() & {"at", "by"} else ()

    def write() -> list[Entry]:
        first = correct(entry, changes=changes, token=token, **said)
        return [first, *(correct(one, changes=shared, token=_of(token, one), **about) for one in touched)]

    return all_or_none([one.tool for one in (entry, *touched)], write)


def _new(stood: dict[str, Any], name: str, changes: dict[str, Any]) -> bool:
    """An empty answer is none."""
    return (stood.get(name) or None) != (changes[name] or None) or (stood.get(name) is False) != (
        changes[name] is False
    )


def _of(token: UUID | None, one: Entry) -> UUID | None:
    return uuid5(token, str(one.pk)) if token is not None else None
