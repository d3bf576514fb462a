"""The pictures of tools: the main ones of a list in one query, and all of one tool with the old ones."""

from collections.abc import Iterable
from dataclasses import dataclass

from tooling.models import Picture, Tool


@dataclass(frozen=True, slots=True)
class Old:
    """A picture that is shown no longer; `replaced` where another took its place."""

    picture: Picture
    replaced: bool


@dataclass(frozen=True, slots=True)
class Gallery:
    """All pictures of a tool: those shown in their order, and the old ones, the latest first.

    `given`: those that were given with an entry; they say what was wrong one day, and not what the tool is.
    """

    on: list[Picture]
    given: list[Picture]
    old: list[Old]


def mains(tools: Iterable[int]) -> dict[int, Picture]:
    """The main picture of each of these tools that has one, by the tool's key. One query, however many."""
    return {one.tool_id: one for one in Picture.objects.filter(tool__in=list(tools), main=True)}


def shown(tool: Tool) -> tuple[Picture | None, int]:
    """The main picture of a tool, if any, and how many it has."""
    pictures = list(Picture.objects.on().filter(tool=tool))
    return next((one for one in pictures if one.main), None), len(pictures)


def gallery(tool: Tool) -> Gallery:
    """Every picture that a tool has and had. One query."""
    pictures = list(Picture.objects.filter(tool=tool).select_related("added_by", "taken_down_by", "entry"))
    replaced = {one.replaces_id for one in pictures}
    old = [one for one in pictures if one.taken_down_at is not None]
    old.sort(key=lambda one: (one.taken_down_at, one.pk), reverse=True)
    on = [one for one in pictures if one.taken_down_at is None]
    return Gallery(
        on=[one for one in on if one.entry_id is None],
        given=[one for one in on if one.entry_id is not None],
        old=[Old(one, one.pk in replaced) for one in old],
    )


def of_entries(entries: Iterable[int]) -> dict[int, list[Picture]]:
    """The pictures that were given with each of these entries, by the entry's key. One query, none without entries."""
    found: dict[int, list[Picture]] = {}
    keys = list(entries)
    if not keys:
        return found
    for one in Picture.objects.on().filter(entry__in=keys).select_related("added_by", "entry", "tool"):
        found.setdefault(one.entry_id or 0, []).append(one)
    return found
