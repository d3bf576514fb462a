"""What state is each tool's release in, and why."""

import json
from argparse import ArgumentParser
from collections.abc import Iterator
from datetime import datetime, tzinfo
from typing import Any

from django.core.management.base import CommandError

from shared import clock
from shared.commands import ShopCommand
from tooling.models import Shop, Tool
from tooling.selectors.families import families
from tooling.selectors.release import Standing, as_row, standings
from tooling.services.times import moment
from tooling.words.status import sentence


class Command(ShopCommand):
    help = "Says for each plug, mold and mold insert what state its release is in at a moment, and why."

    def add_arguments(self, parser: ArgumentParser) -> None:
        """CODE ... --at ISO --known-at ISO --part NUMBER --format text|json"""
        parser.add_argument("codes", nargs="*", metavar="CODE", help="tools; without any, all of them")
        parser.add_argument("--at", help="the moment, ISO 8601; without a zone it is in the shop's (default: now)")
        parser.add_argument("--known-at", help="leave out what was recorded after this moment")
        parser.add_argument("--part", default="", help="the part it is asked for: its own number of pulls counts")
        parser.add_argument("--format", choices=("text", "json"), default="text")

    def handle(self, *args: Any, **options: Any) -> None:
        """Prints one line a tool, or one JSON document."""
        shop = Shop.current()
        at, known_at = (moment(options[name], shop.zone, f"--{name.replace('_', '-')}") for name in ("at", "known_at"))
        at = at or clock.now()
        answers = standings(self._tools(options["codes"]), at, known_at, options["part"])
        if options["format"] == "json":
            codes = dict(Tool.objects.values_list("pk", "code"))
            self.stdout.write(json.dumps([as_row(answer, shop, codes) for answer in answers], indent=1))
            return
        for line in _lines(answers, at, known_at, shop.zone):
            self.stdout.write(line)

    def _tools(self, codes: list[str]) -> list[Tool] | None:
        if not codes:
            return None
        tools = []
        for code in codes:
            tool = Tool.objects.called(code).first()
            if tool is None:
                raise CommandError(f"There is no tool {code}.")
            if not tool.has_surface:
                raise CommandError(f"{tool.code} is a trim mask: it has no release surface.")
            tools.append(tool)
        return tools


def _lines(answers: list[Standing], at: datetime, known_at: datetime | None, zone: tzinfo) -> Iterator[str]:
    """Each tool by its code, and its state as the pages say it."""
    deciding = [answer.status.surface for answer in answers]
    of = families(deciding, at, known_at)  # type: ignore[arg-type]
    for answer in answers:
        status, tool = answer.status, answer.tool
        family = of.get(status.surface, "other")  # type: ignore[call-overload]
        on = next((insert.code for insert in answer.inserts if insert.pk == status.surface), "")
        said = sentence(status, family=family, now=at, zone=zone, own=answer.own, on=on, kind=tool.kind)
        yield f"{tool.code:<16} {said.whole}"
