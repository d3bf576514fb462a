"""What whoever looks at a held trim mask has to know: what its last check found, and the parts in doubt."""

from collections.abc import Mapping
from datetime import datetime, tzinfo
from typing import Any

from tooling.models import Person, Tool
from tooling.selectors.floor import Floor
from tooling.selectors.looking import Beside
from trimfixtures.selectors.edge_check import last_check
from trimfixtures.selectors.since_check import since_check
from trimfixtures.words import since_check as words


def parts_since(tool: Tool, at: datetime, zone: tzinfo) -> Mapping[str, Any]:
    """The parts that were cut since a check passed, in words; nothing where there is none."""
    since = since_check(tool, at)
    if not since.count:
        return {}
    return {
        "since": words.cut_since(since, at, zone),
        "parts": [(of.part, of.numbers, words.without(of)) for of in since.parts],
    }


def in_doubt(tool: Tool, at: datetime, zone: tzinfo, units: str) -> Mapping[str, Any]:
    """The same, and where its last check failed the points that were out and by how much."""
    known = dict(parts_since(tool, at, zone))
    last = last_check(tool, at, zone)
    if last is not None and not last.passed:
        known |= {"failed": words.failed(last, at, zone), "out": list(words.points_out(last, units))}
    return known


def beside(on: Floor, person: Person) -> Beside:
    """On the page where it is looked at: nothing while nothing holds it."""
    known = in_doubt(on.tool, on.at, on.shop.zone, person.units) if on.summary.held_since is not None else {}
    return Beside("trimfixtures/_in_doubt.html", {**known, "check_first": "failed" in known})
