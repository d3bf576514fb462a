"""The board while 200 parts are wanted, beside the same board without them; and one long history beside a short one."""

from collections.abc import Iterator
from datetime import timedelta

from bench.measure import Row, in_turn
from bench.rows.board import on_board
from bench.synth.catalogue import LONG, SHORT
from bench.synth.make import END
from tooling.models import Kind, Part, PartRevision, SetLine, SetRole, Shop, Tool, Wanted
from tooling.selectors.board import Board, board
from tooling.selectors.wanted_now import WantedNow, tools_wanted, wanted_now

PARTS = 200
SINCE = END - timedelta(days=2)


def measure() -> Iterator[Row]:
    """Sets, times and what was laid up since, for all of them at once; nothing of it grows with the histories."""
    molds = list(Tool.objects.filter(kind=Kind.MOLD).order_by("pk")[:PARTS])
    _want(molds)
    rows = len(on_board(_with_wanted()))
    what = f"board of {rows} rows, {len(molds)} parts wanted / none wanted"
    # Each part is a whole tool set with its reasons, and not one row more.
    yield in_turn(Row(what, 25), _with_wanted, lambda: board(END), rounds=15)
    long_one, short_one = (molds[place] for place in _places(molds))
    row = Row("one wanted part, its mold with 5,000 entries / 50", 1.3)
    yield in_turn(row, lambda: _alone(long_one), lambda: _alone(short_one), rounds=31)


def _with_wanted() -> Board:
    return board(END, tools_wanted(_now()))


def _now() -> list[WantedNow]:
    return wanted_now(END, Shop.current().zone)


def _alone(mold: Tool) -> list[WantedNow]:
    Wanted.objects.exclude(part__number=_number(mold)).update(off_at=END)
    Wanted.objects.filter(part__number=_number(mold)).update(off_at=None)
    return _now()


def _places(molds: list[Tool]) -> list[int]:
    keys = list(Tool.objects.order_by("pk").values_list("pk", flat=True)[: LONG + 1])
    known = [mold.pk for mold in molds]
    return [known.index(keys[place]) for place in (LONG, SHORT)]


def _number(mold: Tool) -> str:
    """As the histories of the synthetic shop name what they make."""
    return f"P-{mold.pk - 1:05}"


def _want(molds: list[Tool]) -> None:
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
    Wanted.objects.bulk_create(Wanted(part=part, count=20, at=SINCE) for part in parts)
