"""Mold inserts that were in a mold when a part was last laid up in it, and are not now."""

from collections.abc import Iterator
from datetime import datetime

from django.db.models import Case, F, OuterRef, Subquery, When

from tooling.calc.entry import INSERT_KINDS
from tooling.models import Entry, Kind, SetRole, Tool
from tooling.selectors.usable.asked import Asked
from tooling.selectors.usable.reason import Reason
from tooling.words.deeds import INSTALLED
from tooling.words.usable import insert_out, put_in


def reasons(asked: Asked) -> Iterator[tuple[int, Reason]]:
    """Every insert that is missing from a mold. Where the part's tool set names inserts, that decides instead."""
    settled = any(line.role == SetRole.INSERT for line in asked.tool_set)
    molds = {
        tool.pk: tool
        for tool in asked.tools
        if tool.kind in Kind.TAKES_INSERTS and not (settled and tool.pk in asked.lines)
    }
    uses = _last_uses(list(molds), asked.at) if molds else {}
    for key, insert in _inside(uses):
        if insert.pk not in {one.tool.pk for one in asked.surfaces[key]}:
            text = insert_out(molds[key].code, uses[key], asked.at, asked.shop.zone)
            yield key, Reason("insert_out", insert.code, text, put_in(molds[key].code), INSTALLED)


def _inside(uses: dict[int, datetime]) -> Iterator[tuple[int, Tool]]:
    """The inserts that were in each mold at its moment: of every insert its last move until then, however many more."""
    if not uses:
        return
    ever = Entry.objects.filter(mold__in=uses, kind="installed").values("tool")
    inserts = Tool.objects.filter(pk__in=ever).order_by("code")
    for key, at in uses.items():
        moves = Entry.objects.filter(tool=OuterRef("pk"), kind__in=INSERT_KINDS, at__lte=at).standing()
        into = moves.order_by("-at", "-pk").values(into=Case(When(kind="installed", then=F("mold"))))
        inserts = inserts.annotate(**{f"was_in_{key}": Subquery(into[:1])})
    found = list(inserts)
    for key in uses:
        yield from ((key, insert) for insert in found if getattr(insert, f"was_in_{key}") == key)


def _last_uses(molds: list[int], at: datetime) -> dict[int, datetime]:
    """When a part was last laid up in each mold; or pulled, where nobody writes lay-ups, or no longer.

    The first pull after a lay-up is of that part: an insert may have stuck in it.
    """
    found = Tool.objects.filter(pk__in=molds).annotate(
        laid=_nth(0, at, "lay_up"), pulled=_nth(0, at, "pull"), before=_nth(1, at, "pull", "abandoned")
    )
    uses = {}
    for one in found:
        again = one.laid is None or (one.before is not None and one.before >= one.laid)
        last = max(filter(None, (one.laid, one.pulled)), default=None) if again else one.laid
        if last is not None:
            uses[one.pk] = last
    return uses


def _nth(place: int, at: datetime, *kinds: str) -> Subquery:
    """When the tool of the row had an entry of these kinds: the last before a moment, or the last but one."""
    uses = Entry.objects.filter(tool=OuterRef("pk"), kind__in=kinds, at__lt=at).standing()
    return Subquery(uses.order_by("-at", "-pk").values("at")[place : place + 1])
