"""Of a lot, in words: where it lay and until when, and which parts met it under later coats."""

from collections.abc import Iterator
from datetime import datetime
from itertools import groupby
from typing import Any

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy, ngettext

from tooling.models import Kind
from tooling.words.when import moment

# Which of the parts of a lot are shown: by whether its coat was the last one on.
LAST, UNDER, ALL_COATS = "last", "under", "all"
# What put a lot onto a tool
PUT_ON = {
    "sealer": gettext_lazy("sealer"),
    "coat": gettext_lazy("coat"),
    "film": gettext_lazy("film"),
    "repair": gettext_lazy("repair"),
    "polish": gettext_lazy("polish"),
    "resurfaced": gettext_lazy("new surface"),
    "making": gettext_lazy("its making"),
}


def by_coat(asked: Any) -> list[tuple[str, str]]:
    """How many met its coat as the last one on, and how many a later coat of another lot; empty where none did."""
    if not asked.under:
        return []
    coats = all(span.stretch.since[2].kind == "coat" for span in asked.spans)
    last = _("Last coat on it: %(n)d") if coats else _("Last coat on it, or not a coat: %(n)d")
    counts = {"n": asked.count - asked.under}
    return [
        (LAST, last % counts),
        (UNDER, _("Under later coats: %(n)d") % {"n": asked.under}),
        (ALL_COATS, _("All: %(n)d") % {"n": asked.count}),
    ]


def counted_as(asked: Any) -> Iterator[str]:
    """What among the parts is a tool, and how the table counts a part that two halves made."""
    tools = sum(one.count for one in asked.lines if one.first.tool.kind == Kind.PLUG)
    if tools and asked.count > tools:
        text = ngettext(
            "%(n)d of them came off a plug: a tool, not a part.",
            "%(n)d of them came off a plug: tools, not parts.",
            tools,
        )
        yield text % {"n": tools}
    halves = sum(len(one.parts) > 1 for one in asked.lines)
    if halves:
        text = ngettext(
            "%(n)d of them is out of two halves: the table has a row for each, and counts the part in the first.",
            "%(n)d of them are out of two halves: the table has a row for each half, and counts the part in the first.",
            halves,
        )
        yield text % {"n": halves}


def left_out(asked: Any, shown: Any) -> str:
    """What a sheet with some of them alone does not list."""
    if shown.count == asked.count:
        return ""
    if shown.under:
        text = _("On this sheet are those under later coats alone: %(shown)d of %(n)d.")
    else:
        text = _("Those under later coats of another lot are not on this sheet: it has %(shown)d of %(n)d.")
    return text % {"shown": shown.count, "n": asked.count}


def lay_on(asked: Any, now: datetime) -> Iterator[tuple[str, str]]:
    """Of a lot: each tool that it was put on, with what, how often, from when to when, and until when it lay there."""
    spans = asked.spans if asked.doubt is None else ()
    for code, of_tool in groupby(spans, key=lambda one: one.tool.code):
        kinds: dict[str, list[Any]] = {}
        for span in of_tool:
            kinds.setdefault(span.stretch.since[2].kind, []).append(span.stretch)
        yield code, " ".join(_lay(kind, stretches, asked.zone, now) for kind, stretches in kinds.items())


def _lay(kind: str, stretches: list[Any], zone: Any, now: datetime) -> str:
    """coat, Mon 4 May 07:40; 4 times the same in one: coat, 4 times from Fri 20 Feb 08:29 to Wed 25 Nov 09:20."""
    first, last = (moment(one.since[0], now, zone) for one in (stretches[0], stretches[-1]))
    said = {"what": PUT_ON.get(kind, kind), "n": len(stretches), "first": first, "last": last}
    text = _("%(what)s, %(n)d times from %(first)s to %(last)s") if len(stretches) > 1 else _("%(what)s, %(first)s")
    return f"{text % said}{_until(kind, stretches, zone, now)}"


def _until(kind: str, stretches: list[Any], zone: Any, now: datetime) -> str:
    off, ends = stretches[-1].until, {one.until[:2] if one.until is not None else None for one in stretches}
    if kind == "film" and off is not None and off[2].kind in ("lay_up", "pull"):
        return _(", for the next part.") if len(stretches) == 1 else _(", each for the next part.")
    if off is None:
        return _("; nothing says that it is off.") if len(ends) == 1 else _("; nothing says that the last is off.")
    text = _("; taken off %(off)s.") if len(ends) == 1 else _("; the last taken off %(off)s.")
    return text % {"off": moment(off[0], now, zone)}


def of_lots() -> str:
    """How long a lot is taken to lie on a tool."""
    return _(
        "Coats and sealer count until the whole surface was stripped, repaired, polished or resurfaced: a further coat "
        "of another lot does not take them off. Parts are under later coats where the whole was coated out of another "
        "lot before they were laid up; a coat of which nobody said the lot may be of the same one. A film counts for "
        "one part. A filler counts until the whole was repaired anew or resurfaced, what a tool was built with for "
        "good."
    )


def used_for(used: Any) -> str:
    """coat, film; on 3 tools"""
    what = ", ".join(str(said) for kind, said in PUT_ON.items() if kind in used.kinds)
    on = ngettext("on %(n)d tool", "on %(n)d tools", len(used.tools)) % {"n": len(used.tools)}
    return _("%(what)s; %(on)s") % {"what": what, "on": on}
