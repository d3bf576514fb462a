"""What a change would make of the tools, in words, for a page that shows it before it is made."""

from dataclasses import dataclass
from datetime import date, datetime, tzinfo

from django.utils.dateformat import format as in_format
from django.utils.translation import gettext as _

from tooling.models import Tool
from tooling.selectors.release import Standing
from tooling.selectors.what_if import WhatIf
from tooling.words.status import sentence

# Tools named one by one; more are counted.
NAMED = 40


@dataclass(frozen=True, slots=True)
class Said:
    """A tool, and what is said of it now and would be said then."""

    tool: Tool
    now: str
    then: str


@dataclass(frozen=True, slots=True)
class Preview:
    """The tools named, how many more change like them, and how many stay as they are."""

    total: int
    changed: list[Said]
    more: int
    later: list[Said]
    later_more: int
    same: int


def said_of(found: WhatIf, at: datetime, zone: tzinfo) -> Preview:
    """A preview in words."""
    changed = [
        Said(one.tool, _sentence(one.now, at, zone), _sentence(one.then, at, zone)) for one in found.changed[:NAMED]
    ]
    later = [Said(tool, _until(before), _until(after)) for tool, before, after in found.later[:NAMED]]
    same = found.tools - len(found.changed) - len(found.later)
    more, later_more = len(found.changed) - len(changed), len(found.later) - len(later)
    return Preview(len(found.changed), changed, more, later, later_more, same)


def _sentence(one: Standing, at: datetime, zone: tzinfo) -> str:
    kind = one.tool.kind
    said = sentence(one.status, family=one.family, now=at, zone=zone, own=one.own, on=one.on, kind=kind)
    return said.whole


def _until(day: date | None) -> str:
    return _("never") if day is None else in_format(day, _("j F Y"))
