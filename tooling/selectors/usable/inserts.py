"""Mold inserts that were in a mold when a part was last laid up in it, and are not now."""

from collections import defaultdict
from collections.abc import Iterator
from datetime import datetime

from django.db.models import OuterRef, Subquery

from tooling.calc.entry import INSERT_KINDS
from tooling.models import Entry, Kind, Tool
from tooling.selectors.usable.asked import Asked
from tooling.selectors.usable.reason import Reason
from tooling.words.deeds import INSTALLED
from tooling.words.usable import insert_out, put_in


def reasons(asked: Asked) -> Iterator[tuple[int, Reason]]:
    """Every insert that is missing from a mold."""
    molds = {tool.pk: tool for tool in asked.tools if tool.kind in Kind.TAKES_INSERTS}
    moves = _moves(molds)
    if not moves:
        return
    for key, last in _last_lay_ups(list(molds), asked.at).items():
        inside = {one.tool.pk for one in asked.surfaces[key]}
        for insert, told in moves.items():
            if insert.pk not in inside and _in(told, last) == key:
                text = insert_out(molds[key].code, last, asked.at, asked.shop.zone)
                yield key, Reason("insert_out", insert.code, text, put_in(molds[key].code), INSTALLED)


def _moves(molds: dict[int, Tool]) -> dict[Tool, list[Entry]]:
    """Of every insert that was ever in one of the molds where it was put, oldest first."""
    if not molds:
        return {}
    ever = Entry.objects.filter(mold__in=molds, kind="installed").values("tool_id")
    found: dict[Tool, list[Entry]] = defaultdict(list)
    moves = Entry.objects.filter(tool__in=ever, kind__in=INSERT_KINDS).standing().select_related("tool")
    for entry in moves.order_by("tool__code", "at", "pk"):
        found[entry.tool].append(entry)
    return found


def _last_lay_ups(molds: list[int], at: datetime) -> dict[int, datetime]:
    """When a part was last laid up in each mold; of one whose lay-ups nobody writes, when one was last pulled."""
    found: dict[int, datetime] = {}
    for kind in ("pull", "lay_up"):
        uses = Entry.objects.filter(kind=kind, at__lt=at).standing()
        newest = uses.filter(tool=OuterRef("pk")).order_by("-at").values("at")[:1]
        tools = Tool.objects.filter(pk__in=molds).annotate(last=Subquery(newest)).exclude(last=None)
        found.update(tools.values_list("pk", "last"))
    return found


def _in(moves: list[Entry], at: datetime) -> int | None:
    """The mold that an insert was in at a moment."""
    before = [one for one in moves if one.at <= at]
    return before[-1].mold_id if before and before[-1].kind == "installed" else None
