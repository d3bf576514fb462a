"""What a part needs, whether that may be used, and from when it can be laid up."""

import json
from argparse import ArgumentParser
from collections.abc import Iterator
from contextlib import nullcontext
from datetime import datetime, tzinfo
from typing import Any

from django.core.management.base import CommandError

from shared import clock
from shared.commands import ShopCommand
from tooling.models import PartRevision, SetRole, Shop
from tooling.selectors.lay_up_from import lay_up_from
from tooling.selectors.lay_up_times import LayUpFrom
from tooling.selectors.parts import found, named_revision, near
from tooling.selectors.set_row import as_row
from tooling.selectors.tool_set import LineNow, ToolSet, anything_written, tool_set
from tooling.services.times import moment
from tooling.words.lay_up_from import sentence
from tooling.words.tool_set import beside_role, through
from tooling.words.when import on_paper, with_dates


class Command(ShopCommand):
    help = (
        "Says for a part which tools it needs, where each lies, whether it may be used and why not, and from when it \
can be laid up."
    )

    def add_arguments(self, parser: ArgumentParser) -> None:
        """PART --revision R --at ISO --format text|json"""
        parser.add_argument("part", metavar="PART", help="the number of the part")
        parser.add_argument("--revision", help="which of its revisions (default: the newest)")
        parser.add_argument("--at", help="the moment, ISO 8601; without a zone it is in the shop's (default: now)")
        parser.add_argument("--format", choices=("text", "json"), default="text")

    def handle(self, *args: Any, **options: Any) -> None:
        """Prints the set line by line, or one JSON document. Exits with 0 whether it may be used or not."""
        zone = Shop.current().zone
        then = moment(options["at"], zone, "--at")
        revision = _revision(options["part"], options["revision"])
        in_text = options["format"] == "text"
        # Of another moment "today" would be read as the day on which it is asked.
        with with_dates() if in_text and then is not None else nullcontext():
            answer = tool_set(revision, then or clock.now())
            times = lay_up_from(answer)
            lines = [*_as_of(answer, then, zone), *_lines(answer, times, zone)] if in_text else []
        for line in lines or [json.dumps(as_row(answer, times), indent=1)]:
            self.stdout.write(line)


def _revision(number: str, revision: str | None) -> PartRevision:
    part = found(number)
    if part is None:
        meant = near(number)
        raise CommandError(f"There is no part {number}." + (f" Near it: {', '.join(meant)}." if meant else ""))
    one = named_revision(part, revision)
    if one is not None:
        return one
    names = [one.revision or "one without a name" for one in part.revisions.order_by("pk")]
    if not names:
        raise CommandError(f"{part.number} has no revision, and so no tool set.")
    raise CommandError(f"There is no revision {revision} of {part.number}. There is: {', '.join(names)}.")


def _as_of(answer: ToolSet, then: datetime | None, zone: tzinfo) -> Iterator[str]:
    """The moment that was asked for, which is "now" in all that follows."""
    if then is None:
        return
    yield f"As of {on_paper(then, zone)}; “now” is that moment."
    if answer.lines and not anything_written(answer):
        yield "Nothing was written of these tools by then."


def _lines(answer: ToolSet, times: LayUpFrom, zone: tzinfo) -> Iterator[str]:
    """The whole first, then each line of the set with what stands against it."""
    yield f"{answer.revision}: {'may be used' if answer.usable else answer.why or 'not to be used now'}"
    yield sentence(times, answer.at, zone)
    yield from filter(None, (times.by_the_record, *times.besides, *times.assumed))
    for number, one in enumerate(answer.lines):
        yield from _line(one, answer)
        last = one.role not in [later.role for later in answer.lines[number + 1 :]]
        if last and (beside := beside_role(one.role)):
            yield f"{'':<13}{beside}"


def _line(one: LineNow, answer: ToolSet) -> Iterator[str]:
    role = SetRole(one.role).label if one.offered else "or"
    optional = "" if one.needed else ", optional"
    yield f"{role:<12} {one.line.what:<16} {one.place}{optional}"
    if one.why:
        yield f"{'':<13}{one.why}"
    elsewhere, own = answer.said_at(one)
    if elsewhere:
        yield f"{'':<13}not usable: {through(elsewhere)}"
    for reason in own:
        yield f"{'':<13}not usable: {_said(one, reason.tool)}{reason.text} {reason.beside}".rstrip()
    for note in one.notes:
        yield f"{'':<13}note: {_said(one, note.tool)}{note.text}"


def _said(one: LineNow, tool: str) -> str:
    """Whose reason it is, where that is an insert in the tool."""
    return "" if one.tool is None or tool == one.tool.code else f"{tool}: "
