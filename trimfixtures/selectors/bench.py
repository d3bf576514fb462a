"""What waits at the trim bench: parts that came off lately, and how the trim masks stand that each still wants."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta

from shared.units import METRIC
from tooling.calc.entry import part_key
from tooling.calc.halves import Half, together
from tooling.models import Entry, Kind, PartRevision, SetLine, SetRole
from tooling.models.serials import split, whole_key
from tooling.selectors.tool_set import LineNow, ToolSet, tool_sets
from trimfixtures.calc.spoilt import is_lost, is_spoilt
from trimfixtures.calc.waiting import Cut, Off, Waiting, waiting
from trimfixtures.models import Mask, Stage

# What came off longer ago was trimmed, or nobody writes its cuts down.
LATELY = timedelta(days=14)
MOST = 50
_STAGES = {stage: place for place, stage in enumerate(Stage.values)}


@dataclass(frozen=True, slots=True)
class Step:
    """A trim mask that a part wants, at its stage ("" where none is written down). `done`: it was cut with it."""

    line: LineNow
    stage: str
    done: bool


@dataclass(frozen=True, slots=True)
class Spoiling(Cut):
    """A cut with how it went, the number of its entry and the code of its trim mask."""

    outcome: str = ""
    number: int = 0
    code: str = ""


@dataclass(frozen=True, slots=True)
class AtBench:
    """A part that waits: since when it is off its mold, and every cut it wants, in the order of the stages.

    spoilt: the cut that spoiled it, where it was not cut again since.
    """

    revision: PartRevision
    serial: str
    off_at: datetime
    steps: tuple[Step, ...]
    spoilt: Spoiling | None = None

    @property
    def next(self) -> Step:
        """The first that is not done."""
        return next(step for step in self.steps if not step.done)


@dataclass(frozen=True, slots=True)
class Bench:
    """The rows, and how many more there are that are not shown."""

    rows: list[AtBench]
    more: int = 0


def bench(at: datetime, *, units: str = METRIC) -> Bench:
    """What waits at a moment that is not before the last write, in a fixed number of queries."""
    newest = _newest_with_trim()
    answers = tool_sets(newest.values(), at, units=units) if newest else {}
    lines = {part: _wanted(answers[one.pk]) for part, one in newest.items()}
    wanted = {part: [line.tool.pk for line in of if line.tool is not None] for part, of in lines.items()}
    masks = {key for keys in wanted.values() for key in keys}
    if not masks:
        return Bench([])
    off = _came_off([one.part.number for one in newest.values()], at)
    hands = {line.tool.pk: line.tool.hand for of in lines.values() for line in of if line.tool is not None}
    found = waiting(off, _cuts(masks, at), wanted, hands)
    stages = dict(Mask.objects.filter(tool__in=masks).values_list("tool", "stage"))
    rows = [
        AtBench(newest[one.part], one.serial, one.at, _steps(lines[one.part], stages, one), one.spoilt)  # type: ignore[arg-type]
        for one in found[:MOST]
    ]
    return Bench(rows, len(found) - len(rows))


def _newest_with_trim() -> dict[str, PartRevision]:
    """By the number of each part whose newest set has a trim mask: that revision."""
    having = SetLine.objects.filter(role=SetRole.TRIM_MASK).values("revision__part")
    revisions = PartRevision.objects.filter(part__in=having).select_related("part").order_by("id")
    return {part_key(one.part.number): one for one in revisions}


def _wanted(answer: ToolSet) -> list[LineNow]:
    return answer.needed(SetRole.TRIM_MASK)


def _came_off(numbers: Iterable[str], at: datetime) -> list[Off]:
    """What came off whole, halves of one part once."""
    pulls = Entry.objects.naming(numbers).filter(kind="pull", at__gt=at - LATELY, at__lte=at)
    pulls = pulls.exclude(came_off="lost").standing().select_related("tool")
    parts = together(map(_half, pulls.order_by("at", "pk")))
    return [_off([half.of for half in part]) for part in parts]


def _half(pull: Entry) -> Half[Entry]:
    tool = pull.tool
    group = (tool.matched_set.casefold(), part_key(pull.part)) if tool.matched_set and tool.kind == Kind.MOLD else ""
    return Half(pull, tool.pk, group, pull.at, pull.at, frozenset(map(whole_key, split(pull.serial))))


def _off(halves: list[Entry]) -> Off:
    serials = dict.fromkeys(whole_key(one) for half in halves for one in split(half.serial))
    count = max(max(half.count or 1 for half in halves), len(serials))
    hands = {half.tool.hand for half in halves}
    hand = hands.pop() if len(hands) == 1 else ""
    return Off(part_key(halves[0].part), max(half.at for half in halves), tuple(serials), count, hand)


def _cuts(masks: Iterable[int], at: datetime) -> list[Spoiling]:
    cuts = Entry.objects.filter(tool__in=masks, kind="used", at__gt=at - LATELY, at__lte=at).standing()
    told = cuts.values_list("tool", "part", "at", "serial", "count", "payload", "number", "tool__code")
    return [
        Spoiling(
            tool,
            part_key(part),
            when,
            tuple(map(whole_key, split(serial))),
            count or 1,
            is_spoilt(said),
            is_lost(said),
            outcome=said.get("outcome", ""),
            number=number,
            code=code,
        )
        for tool, part, when, serial, count, said, number, code in told
    ]


def _steps(lines: Iterable[LineNow], stages: Mapping[int, str], one: Waiting) -> tuple[Step, ...]:
    mine = [(line, line.line.tool_id) for line in lines if line.line.tool_id not in one.skip]
    steps = [Step(line, stages.get(key or 0, ""), key in one.done) for line, key in mine]
    return tuple(sorted(steps, key=lambda step: _STAGES.get(step.stage, len(_STAGES))))
