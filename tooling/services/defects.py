"""Defects of tools, level with the entries that speak of them: the ledger asks `check` and calls `keep_defects`."""

from collections.abc import Collection, Iterable, Iterator
from dataclasses import replace
from datetime import datetime, tzinfo
from functools import partial

from django.db.models import Max
from django.utils.translation import gettext as _

from shared.errors import Refused
from tooling.calc.defect_lines import FOUND, OPENED, DefectLine, read_defects, write_defects
from tooling.models import Defect, DefectMark, Entry, Picture, Summary, Tool
from tooling.selectors.defects import DefectNow, defects_of, in_order, open_by_tool
from tooling.services.drafts import LeftAlone
from tooling.words.defects import MENDED_BY
from tooling.words.when import long_day

# The kinds of entry that speak of defects.
KINDS = ("note", "hold", "inspected", "repair", "polish", "resurfaced", "accepted")
# Stands in a line for the number that a defect gets when it is written.
NEW = 0
_PIECE = 500
# Of a mark its entry and what it says.
Said = tuple[int, int, str, object, str]


def numbered(lines: Iterable[DefectLine]) -> str | LeftAlone:
    """Lines for an entry; what is found for the first time (number NEW) gets the next number under the locks."""
    lines = tuple(lines)
    if all(line.number != NEW for line in lines):
        return write_defects(lines)
    return LeftAlone(partial(_with_numbers, lines), write_defects(lines))


def _with_numbers(lines: tuple[DefectLine, ...], tool: Tool) -> str:
    following, done = next_number(tool), []
    for line in lines:
        if line.number == NEW:
            line, following = replace(line, number=following), following + 1
        done.append(line)
    return write_defects(done)


def next_number(tool: Tool) -> int:
    """The number that the next defect of a tool gets; one that was ever given is not given again."""
    return (Defect.objects.filter(tool=tool).aggregate(last=Max("number"))["last"] or 0) + 1


def on_another_tool(text: str) -> str | LeftAlone:
    """What lines say where their entry belongs to another tool: what was found, under the numbers of that one."""
    found = [replace(line, number=NEW) for line in read_defects(text) if line.did == FOUND]
    return numbered(found) if found else ""


def check(entry: Entry, *, now: datetime, zone: tzinfo) -> None:
    """Refuses an entry that says of a defect what cannot be, as the history stands at its moment, without what it
    replaces. Call it under the locks; an import keeps what happened, and the defect's page says it.
    """
    lines = _lines(entry)
    if not lines:
        return
    marks = DefectMark.objects.standing().filter(defect__tool=entry.tool_id).exclude(entry=entry.replaces_id)
    known = dict(marks.order_by("-entry__at").values_list("defect__number", "entry__at"))
    then = {one.number: one for one in defects_of(entry.tool, entry.at, leaving_out=entry.replaces_id)}
    own = found_by(entry.replaces) if entry.replaces is not None else []
    for line in lines:
        if line.did == FOUND and line.number in own:
            continue
        if why := _wrong_with(line, known, then.get(line.number), now, zone):
            first = long_day(known[line.number], now, zone) if line.number in known else ""
            raise Refused(why % {"number": line.number, "code": entry.tool.code, "day": first})


def _wrong_with(line: DefectLine, known: Collection[int], then: DefectNow | None, now: datetime, zone: tzinfo) -> str:
    """Why a line cannot be said of a defect that stood like this then; "" where it can."""
    if line.did == FOUND:
        taken = _("Defect %(number)d of %(code)s is there already. Open the page anew.")
        return taken if line.number in known else ""
    if line.number not in known:
        return _("%(code)s has no defect %(number)d. Open the page anew.")
    if then is None:
        return _("Defect %(number)d was found on %(day)s: nothing is said of it for a time before that.")
    if line.did == OPENED:
        return _("Defect %(number)d is still there: say how it is now.") if then.is_open else ""
    return "" if then.is_open else closed_before(then, now, zone)


def closed_before(one: DefectNow, now: datetime, zone: tzinfo) -> str:
    """Why nothing more can be said of a closed defect."""
    mended = one.last.entry.kind in MENDED_BY
    text = _("Defect %(number)d was mended on %(day)s.") if mended else _("Defect %(number)d was gone on %(day)s.")
    said = {"number": one.number, "day": long_day(one.last.entry.at, now, zone)}
    return f"{text % said} {_('Say first that it came back, if it did.')}"


def keep_defects(entry: Entry, summary: Summary | None = None) -> None:
    """Writes what an entry that was just written says of defects, and how many are open now.

    Where it voids or replaces one that spoke of them, what that said counts no more. `summary`: the tool's own, which
    the caller saves; without it the stored one is set.
    """
    said = [one for one in (entry, entry.voids, entry.replaces) if one is not None and one.payload.get("defects")]
    if not said:
        return
    _write(entry, Picture.objects.filter(tool=entry.tool_id, main=True).first())
    _settle([entry.tool_id], [line.number for one in said for line in _lines(one)])
    count = open_by_tool(_standing([entry.tool_id]))[entry.tool_id]
    if summary is not None:
        summary.open_defects = count
    else:
        Summary.objects.filter(tool=entry.tool_id).update(open_defects=count)


def on_picture(entry: Entry, number: int, picture: Picture) -> None:
    """Says which picture of the tool the place of a defect that an entry found is on."""
    Defect.objects.filter(tool=entry.tool_id, number=number, marks__entry=entry).update(picture=picture)


def close_ups(entry: Entry, number: int) -> None:
    """The pictures that were given with an entry show this defect of its tool."""
    defect = Defect.objects.filter(tool=entry.tool_id, number=number).first()
    Picture.objects.filter(entry=entry, defect=None).update(defect=defect)


def found_by(entry: Entry) -> list[int]:
    """The numbers of the defects that an entry found."""
    return [line.number for line in _lines(entry) if line.did == FOUND]


def lay_anew(tools: Iterable[int]) -> dict[int, int]:
    """Writes the defects of these tools anew out of their entries; by tool how many are open.

    Which picture a defect's place is on, and which pictures show it, no entry says: that stays.
    """
    keys = list(tools)
    DefectMark.objects.filter(defect__tool__in=keys).delete()
    for entry in speaking(keys):
        _write(entry, None)
    Defect.objects.filter(tool__in=keys, marks=None, pictures=None).delete()
    _settle(keys)
    return open_by_tool(_standing(keys))


def speaking(tools: Iterable[int] | None = None) -> Iterator[Entry]:
    """The entries of these tools (None: all) that speak of defects, in recording order."""
    entries = Entry.objects.filter(kind__in=KINDS, payload__has_key="defects").order_by("pk")
    return (entries if tools is None else entries.filter(tool__in=list(tools))).iterator(chunk_size=_PIECE)


def marks_of(entry: Entry) -> set[Said]:
    """What the marks of an entry should say, by the defect's number."""
    return {(entry.pk, line.number, line.did, line.size_mm, line.words) for line in _lines(entry)}


def _lines(entry: Entry) -> tuple[DefectLine, ...]:
    return read_defects(entry.payload.get("defects") or "") if entry.kind in KINDS else ()


def _write(entry: Entry, picture: Picture | None) -> None:
    """The marks of an entry, and the rows of the defects that nobody spoke of before."""
    lines, marks = _lines(entry), []
    there = {one.number: one for one in Defect.objects.filter(tool=entry.tool_id, number__in=[o.number for o in lines])}
    for line in lines:
        defect = there.get(line.number)
        if defect is None:
            on = picture if line.x is not None else None
            defect = Defect.objects.create(
                tool=entry.tool, number=line.number, picture=on, **_facts(line, line.kind or "other")
            )
        marks.append(DefectMark(defect=defect, entry=entry, did=line.did, size_mm=line.size_mm, words=line.words))
    DefectMark.objects.bulk_create(marks)


def _facts(line: DefectLine, kind: str) -> dict[str, object]:
    return {"kind": kind, "place": line.place, "x": line.x, "y": line.y}


def _settle(tools: Collection[int], numbers: Collection[int] | None = None) -> None:
    """Each defect (of these numbers; None: all) is what the entry that found it says: the last of those that stand."""
    found = DefectMark.objects.standing().filter(defect__tool__in=tools, did=FOUND).select_related("defect", "entry")
    marks = found if numbers is None else found.filter(defect__number__in=numbers)
    for mark in sorted(marks, key=in_order):
        line = next(one for one in _lines(mark.entry) if one.number == mark.defect.number)
        facts = _facts(line, line.kind)
        if any(getattr(mark.defect, name) != value for name, value in facts.items()):
            Defect.objects.filter(pk=mark.defect_id).update(**facts)


def _standing(tools: Iterable[int]) -> Iterable[DefectMark]:
    return DefectMark.objects.standing().filter(defect__tool__in=tools).select_related("defect", "entry")
