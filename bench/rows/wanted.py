"""200 wanted parts in one pass, beside each by itself; the list over one long history beside a short one; the page of
a part beside the board.
"""

from collections.abc import Iterator
from datetime import datetime

from django.core.wsgi import get_wsgi_application

from bench.measure import WARM, Row, in_turn, seconds
from bench.rows.request import asked, in_place, signed_in
from bench.synth.catalogue import LONG, SHORT
from bench.synth.make import END
from shared import clock
from tooling.models import Entry, Kind, Part, PartRevision, Person, SetLine, SetRole, Shop, Tool, Wanted
from tooling.selectors.board import board
from tooling.selectors.lay_up_from import lay_up_from
from tooling.selectors.tool_set import tool_set
from tooling.selectors.wanted import on_list
from tooling.selectors.wanted_now import tools_wanted, wanted_now

PARTS, TOOLS = 200, 12
# So many of the last lay-ups and pulls of a part are younger than its place on the list.
SINCE, ROUNDS = 10, 31


def measure() -> Iterator[Row]:
    """Sets, times and what was laid up since; nothing of it grows with the histories."""
    molds = list(Tool.objects.filter(kind=Kind.MOLD).order_by("pk")[:PARTS])
    revisions = _want(molds)
    zone = Shop.current().zone
    at_once = Row(f"board with {len(molds)} parts wanted / each set and its time by itself", 0.15)
    yield in_turn(
        at_once,
        lambda: board(END, tools_wanted(wanted_now(END, zone))),
        lambda: [lay_up_from(tool_set(one, END)) for one in revisions],
        rounds=9,
    )
    yield _long_beside_short([molds[place] for place in _places(molds)])
    yield from _page_beside_board(revisions[0])


def _long_beside_short(molds: list[Tool]) -> Row:
    """Both have as much to count since they are wanted."""
    row, zone = Row("list of one wanted part, its mold with 5,000 entries / 50", 1.3), Shop.current().zone
    for number in range(-WARM, ROUNDS):
        for mold, taken in zip(molds, (row.figure, row.floor), strict=True):
            Wanted.objects.update(off_at=END)
            Wanted.objects.filter(part__number=_number(mold)).update(off_at=None)
            took = seconds(lambda: on_list(END, zone))
            if number >= 0:
                taken.append(took)
    return row


def _page_beside_board(revision: PartRevision) -> Iterator[Row]:
    """Requests by a lead: a part whose set is full, nothing else wanted."""
    others = Tool.objects.filter(kind__in=(Kind.INSERT, Kind.TRIM_MASK)).exclude(in_sets__revision=revision)
    more = others.order_by("-pk")[: TOOLS - revision.tool_set.count()]
    SetLine.objects.bulk_create(SetLine(revision=revision, role=one.kind, tool=one) for one in more)
    Wanted.objects.update(off_at=END)
    cookie = signed_in(Person.objects.filter(role="lead").first() or Person.objects.create_person("Lead", "lead"))
    with in_place(), clock.set_to(END):
        program = get_wsgi_application()
        page, morning = asked(program, f"/parts/{revision.part.number}/", cookie), asked(program, "/", cookie)
        yield in_turn(Row(f"request of a part with a set of {TOOLS} tools / of the board", 1), page, morning)


def _places(molds: list[Tool]) -> list[int]:
    keys = list(Tool.objects.order_by("pk").values_list("pk", flat=True)[: LONG + 1])
    known = [mold.pk for mold in molds]
    return [known.index(keys[place]) for place in (LONG, SHORT)]


def _number(mold: Tool) -> str:
    """As the histories of the synthetic shop name what they make."""
    return f"P-{mold.pk - 1:05}"


def _want(molds: list[Tool]) -> list[PartRevision]:
    """A part of each mold, with the mold and the inserts that are in it as its set; and hours of the shop."""
    parts = Part.objects.bulk_create(Part(number=_number(mold)) for mold in molds)
    revisions = PartRevision.objects.bulk_create(PartRevision(part=part, name=part.number) for part in parts)
    lines = []
    for mold, revision in zip(molds, revisions, strict=True):
        lines.append(SetLine(revision=revision, role=SetRole.MOLD, tool=mold))
        inserts = Tool.objects.filter(summary__in_mold_of=mold)
        lines += [SetLine(revision=revision, role=SetRole.INSERT, tool=one) for one in inserts]
    SetLine.objects.bulk_create(lines)
    Shop.objects.update(week="Mon-Fri 06:00-18:00", hands=6)
    Wanted.objects.bulk_create(Wanted(part=part, count=20, at=_since(part)) for part in parts)
    return revisions


def _since(part: Part) -> datetime:
    """Some of the synthetic tools have hardly been used."""
    made = Entry.objects.filter(part=part.number, kind__in=("lay_up", "pull")).standing().order_by("-at")
    return min(made.values_list("at", flat=True)[:SINCE], default=END)
