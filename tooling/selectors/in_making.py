"""Tools in the making: how far each is, what it waits for, and what waits for it."""

from collections import Counter, defaultdict
from collections.abc import Collection, Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from datetime import datetime

from django.db.models import Exists, F, OuterRef, Q, QuerySet, Subquery

from tooling.calc.state import PartIn, decode
from tooling.models import BY_ENTRY, Entry, Kind, MakingStep, PartRevision, Picture, SetLine, Summary, Tool, Wanted
from tooling.selectors.pictures import of_entries
from tooling.selectors.step_line import OnLine, StepLine, line_of

# What is written of the tool that another is laid up on and pulled from.
ON_ITS_ORIGIN = ("lay_up", "pull")
# Why the tool that it is made from cannot be worked on, or where it is in use.
MAKING, HELD, LENT, LOST, RETIRED, IN_USE, CURES = "making", "held", "lent", "lost", "retired", "in_use", "cures"


@dataclass(frozen=True, slots=True)
class WaitsFor:
    """What it waits for: the tool that it is made from, and why. step, until: of that tool, where they say it."""

    tool: Tool
    why: str
    step: str = ""
    who: str = ""
    until: datetime | None = None


@dataclass(frozen=True, slots=True)
class PartWaits:
    """A part whose tool set names the tool. wanted: it is on the list."""

    number: str
    wanted: bool


@dataclass(frozen=True)
class InMaking:
    """A tool in the making at a moment. `pictures`: by the key of the entry with which they were given."""

    tool: Tool
    summary: Summary
    line: StepLine
    waits_for: tuple[WaitsFor, ...] = ()
    tools_wait: tuple[Tool, ...] = ()
    parts_wait: tuple[PartWaits, ...] = ()
    pictures: dict[int, list[Picture]] = field(default_factory=dict)

    @property
    def step(self) -> str:
        """The name of the step that it is at; "" before the first."""
        return self.line.now.name if self.line.now is not None else ""

    @property
    def since(self) -> datetime | None:
        """Since when it is at that step."""
        began = self.line.now.began if self.line.now is not None else None
        return began.at if began is not None else None

    @property
    def next_step(self) -> OnLine | None:
        """What comes next; None where that is to accept it, or nobody can say."""
        return self.line.next

    @property
    def done(self) -> tuple[OnLine, ...]:
        """The steps that it has behind it, with what was written of each."""
        return tuple(one for one in self.line.steps if one.entries and one is not self.line.now)

    def pictures_of(self, step: OnLine | None) -> list[Picture]:
        """The pictures that were given with what was written of a step."""
        entries = step.entries if step is not None else ()
        return [picture for entry in entries for picture in self.pictures.get(entry.pk, ())]

    @property
    def last_pictures(self) -> list[Picture]:
        """Those of the step that it is at."""
        return self.pictures_of(self.line.now)


def in_making(at: datetime, tools: Collection[int] | None = None) -> list[InMaking]:
    """Every tool in the making, at its step for the longest first; `tools`: of these alone, by their keys.

    At a moment that is not before the last write, in a number of queries that does not grow.
    """
    found = _summaries(Summary.objects.filter(making=True, retired=False), tools)
    on_them = _summaries(Summary.objects.filter(making=True, retired=False, tool__made_from__in=[
        one.tool_id for one in found
    ]), None) if found else []  # fmt: skip
    lines = lines_of([one.tool for one in {one.pk: one for one in (*found, *on_them)}.values()])
    waiting: dict[int | None, list[Tool]] = defaultdict(list)
    for one in on_them:
        if not _is_laid_up(lines[one.tool_id]):
            waiting[one.tool.made_from_id].append(one.tool)
    parts = _parts([one.tool_id for one in found])
    pictures = of_entries(entry.pk for one in found for entry in lines[one.tool_id].entries)
    made = [
        InMaking(
            one.tool, one, lines[one.tool_id], _waits_for(one, lines[one.tool_id], at),
            tuple(sorted(waiting[one.tool_id], key=lambda tool: tool.code)), parts.get(one.tool_id, ()), pictures,
        )
        for one in found
    ]  # fmt: skip
    return sorted(made, key=lambda one: (one.since is not None, one.since or at, one.tool.code))


def lines_of(tools: Sequence[Tool] | QuerySet[Tool]) -> dict[int, StepLine]:
    """The steps of each of these tools, in the making or made, by its key. In three queries."""
    listed: dict[str, list[MakingStep]] = defaultdict(list)
    for step in MakingStep.objects.filter(kind__in={tool.kind for tool in tools}).order_by("order", "id"):
        listed[step.kind].append(step)
    written: dict[int, list[Entry]] = defaultdict(list)
    for entry in _own(tools):
        written[entry.tool_id].append(entry)
    for tool, entry in _on_origins(tools):
        written[tool].append(entry)
    return {tool.pk: _line(_of_it(tool, listed[tool.kind], written[tool.pk]), written[tool.pk]) for tool in tools}


def _of_it(tool: Tool, listed: Sequence[MakingStep], written: Iterable[Entry]) -> list[MakingStep]:
    """The steps of its kind that it can have: what comes from no tool is laid up on none, and pulled off none."""
    of_origin = set() if tool.made_from_id else {"lay_up", "pull"} - {entry.kind for entry in written}
    return [step for step in listed if step.by_entry not in of_origin]


def _line(listed: Sequence[MakingStep], written: list[Entry]) -> StepLine:
    """What is done to a tool once it is made is no step of its making."""
    written.sort(key=lambda entry: (entry.at, entry.pk))
    steps = [number for number, entry in enumerate(written) if entry.kind in ("making", "accepted")]
    last = written[steps[-1]] if steps else None
    accepted = last if last is not None and last.kind == "accepted" else None
    of_it = written[: steps[-1]] if accepted is not None else written
    return line_of(listed, [entry for entry in of_it if entry.kind != "accepted"], accepted)


def steps_now(tools: Collection[int]) -> dict[int, str]:
    """The step that each of these is at, by its key, also where that is another entry."""
    lines = lines_of(Tool.objects.filter(pk__in=tools)) if tools else {}
    return {key: line.now.name if line.now is not None else "" for key, line in lines.items()}


def line_of_tool(tool: Tool, *, making: bool) -> StepLine | None:
    """The steps of one tool; None where it is not in the making and nobody wrote how it was made."""
    if not making and not Entry.objects.filter(tool=tool, kind="making").standing().exists():
        return None
    return lines_of([tool])[tool.pk]


def at_steps(kind: str) -> dict[str, int]:
    """How many tools of a kind stand at each step by its name, in capitals."""
    found = Summary.objects.filter(making=True, retired=False, tool__kind=kind).exclude(step="").order_by()
    return Counter(step.upper() for step in found.values_list("step", flat=True))


def _summaries(found: QuerySet[Summary], tools: Collection[int] | None) -> list[Summary]:
    found = found if tools is None else found.filter(tool__in=list(tools))
    return list(found.select_related("tool__made_from__summary").order_by())


def _own(tools: Iterable[Tool]) -> Iterable[Entry]:
    """What was written of them; laying up on a plug is a step of what is laid up, and pulling from it as well."""
    kinds = [*(kind for kind in BY_ENTRY if kind not in ON_ITS_ORIGIN), "making", "accepted"]
    entries = Entry.objects.filter(tool__in=[tool.pk for tool in tools])
    of_a_plug = Q(kind__in=ON_ITS_ORIGIN, tool__kind=Kind.PLUG)
    return entries.filter(Q(kind__in=kinds) | of_a_plug).standing().select_related("by")


def _on_origins(tools: Iterable[Tool]) -> Iterator[tuple[int, Entry]]:
    """What was laid up on the tools that these are made from and pulled from there, where it names them."""
    of = {tool.code: tool for tool in tools if tool.kind != Kind.PLUG}
    if not of:
        return
    for entry in Entry.objects.naming(of).filter(kind__in=ON_ITS_ORIGIN).standing().select_related("by", "tool"):
        tool = of[entry.part.strip().upper()]
        if entry.tool_id == tool.made_from_id or (tool.made_from_id is None and entry.tool.kind == Kind.PLUG):
            yield tool.pk, entry


def _is_laid_up(line: StepLine) -> bool:
    """Whether it is on its plug or off it already: then it waits for the plug no more."""
    return line.reached(*ON_ITS_ORIGIN) or any(entry.kind in ON_ITS_ORIGIN for entry in line.entries)


def _waits_for(summary: Summary, line: StepLine, at: datetime) -> tuple[WaitsFor, ...]:
    origin = summary.tool.made_from
    if origin is None:
        return ()
    part = decode(origin.summary.state).part
    own = part is not None and part.part.strip().upper() == summary.tool.code
    if own and part is not None:
        return (WaitsFor(origin, CURES, until=part.earliest_pull),)
    return () if _is_laid_up(line) else tuple(_reasons(origin, origin.summary, part))


def _reasons(origin: Tool, summary: Summary, part: PartIn | None) -> Iterator[WaitsFor]:
    """Why nothing can be laid up on the tool that it is made from."""
    if summary.retired:
        yield WaitsFor(origin, RETIRED)
        return
    if summary.making:
        yield WaitsFor(origin, MAKING, step=summary.step)
    if summary.held_since is not None:
        yield WaitsFor(origin, HELD)
    if summary.lent:
        yield WaitsFor(origin, LENT, who=summary.lent_to)
    elif summary.seen_at is not None and summary.seen_place_id is None:
        yield WaitsFor(origin, LOST)
    if part is not None:
        yield WaitsFor(origin, IN_USE, who=part.part, until=part.earliest_pull)


def _parts(tools: Collection[int]) -> dict[int, tuple[PartWaits, ...]]:
    """The parts that cannot do without each of these tools: in the newest revision's set, and none stands in for it."""
    newest = PartRevision.objects.filter(part=OuterRef("revision__part")).newest_first().values("pk")[:1]
    instead = SetLine.objects.filter(
        revision=OuterRef("revision"), role=OuterRef("role"), alternative__iexact=OuterRef("alternative"),
        tool__summary__making=False, tool__summary__retired=False,
    )  # fmt: skip
    lines = SetLine.objects.filter(tool__in=list(tools), required=True).annotate(newest=Subquery(newest))
    lines = lines.filter(revision=F("newest")).filter(Q(alternative="") | ~Exists(instead))
    on_list = Exists(Wanted.objects.on_list().filter(part=OuterRef("revision__part")))
    found: dict[int, list[PartWaits]] = defaultdict(list)
    for tool, number, wanted in lines.annotate(wanted=on_list).values_list("tool", "revision__part__number", "wanted"):
        found[tool].append(PartWaits(number, wanted))
    return {tool: tuple(sorted(of, key=lambda one: (not one.wanted, one.number))) for tool, of in found.items()}
