"""What a part needs, whether that may be used, and from when it can be laid up."""

import json
from argparse import ArgumentParser
from collections.abc import Iterator
from datetime import tzinfo
from typing import Any

from django.core.management.base import CommandError

from shared import clock
from shared.commands import ShopCommand
from tooling.models import PartRevision, SetRole, Shop
from tooling.selectors.lay_up_from import LayUpFrom, lay_up_from
from tooling.selectors.parts import found, named_revision, near
from tooling.selectors.set_row import as_row
from tooling.selectors.tool_set import LineNow, ToolSet, tool_set
from tooling.services.times import moment
from tooling.words.lay_up_from import sentence
from tooling.words.tool_set import beside_role


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
        at = moment(options["at"], zone, "--at") or clock.now()
        answer = tool_set(_revision(options["part"], options["revision"]), at)
        times = lay_up_from(answer)
        if options["format"] == "json":
            self.stdout.write(json.dumps(as_row(answer, times), indent=1))
            return
        for line in _lines(answer, times, zone):
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


def _lines(answer: ToolSet, times: LayUpFrom, zone: tzinfo) -> Iterator[str]:
    """The whole first, then each line of the set with what stands against it."""
    yield f"{answer.revision}: {'may be used' if answer.usable else answer.why or 'not to be used now'}"
    yield sentence(times, answer.at, zone)
    yield from filter(None, (times.by_the_record, *times.besides, *times.assumed))
    for number, one in enumerate(answer.lines):
        yield from _line(one)
        last = one.role not in [later.role for later in answer.lines[number + 1 :]]
        if last and (beside := beside_role(one.role)):
            yield f"{'':<13}{beside}"


def _line(one: LineNow) -> Iterator[str]:
    role = SetRole(one.role).label if one.offered else "or"
    optional = "" if one.needed else ", optional"
    yield f"{role:<12} {one.line.what:<16} {one.place}{optional}"
    if one.why:
        yield f"{'':<13}{one.why}"
    for reason in one.reasons:
        yield f"{'':<13}not usable: {_said(one, reason.tool)}{reason.text} {reason.mend}".rstrip()
    for note in one.notes:
        yield f"{'':<13}note: {_said(one, note.tool)}{note.text}"


def _said(one: LineNow, tool: str) -> str:
    """Whose reason it is, where that is an insert in the tool."""
    return "" if one.tool is None or tool == one.tool.code else f"{tool}: "
