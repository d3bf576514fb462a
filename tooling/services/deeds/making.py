"""A tool that is still being built."""

from decimal import Decimal
from typing import Unpack

from tooling.models import Entry, Tool
from tooling.services.deeds.base import Defects, Said
from tooling.services.ledger import record


class Worked(Said, total=False):
    """What was done at a step: the kind of work, coats or skins, material and how much of it, grit, minutes, lot."""

    work: str
    count: int | None
    material: str
    value: Decimal | None
    unit: str
    grit: str
    minutes: Decimal | None
    lot: str


def make_step(tool: Tool, *, step: str, **said: Unpack[Worked]) -> Entry:
    """The tool is at a named step of its making; said again with other work, it is still at it."""
    return record(tool, "making", step=step, **said)


class Evidence(Said, total=False):
    """What an acceptance rests on: checklist, answers (lines of `calc.answers`), and the design it was held against."""

    checklist: int | None
    answers: str
    defects: Defects
    design_ref: str
    design_revision: str


def accept(tool: Tool, **said: Unpack[Evidence]) -> Entry:
    """The making ends: the tool may be used."""
    return record(tool, "accepted", **said)
