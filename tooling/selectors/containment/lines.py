"""The parts in doubt as lines: each serial number once, with the mark of who looked at it."""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from datetime import datetime

from django.db.models.fields.json import KT

from tooling.calc.entry import part_key
from tooling.calc.order import by_key
from tooling.models import ContainmentMark, Entry, Kind, SerialNumber, Tool
from tooling.models.serials import key_of, whole_key
from tooling.selectors.containment.marks import Found
from tooling.selectors.serials.made import TRIMMED, Part

# Numbers of so many lines are looked up at once.
_AT_ONCE = 500


@dataclass(frozen=True, slots=True)
class Met:
    """Another tool that the same number went through: the trim mask that it was cut against, or what it came out of."""

    tool: Tool
    at: datetime


@dataclass(slots=True)
class InDoubt:
    """One part, or those of one use that have no number. `parts`: how it went through each half that closes on it.

    after: it went in when the tool was stopped already. under: of a lot, where all of it that lay there was under a
    later coat of another lot. mark: who looked at it, if somebody did; before: what was
    found earlier, and stands no more.
    """

    parts: list[Part]
    number: str
    count: int
    after: bool = False
    under: bool = False
    mark: ContainmentMark | None = None
    before: tuple[ContainmentMark, ...] = ()
    revision: str = ""
    met: list[Met] = field(default_factory=list)

    @property
    def first(self) -> Part:
        """How it went through the tool, or through the first of two halves."""
        return self.parts[0]

    @property
    def use(self) -> int:
        """The key of what was written of it first, as it was first written."""
        return self.first.making.first[1]

    @property
    def serial(self) -> str:
        """Its number as it is compared."""
        return key_of(self.number)

    @property
    def key(self) -> str:
        """What a form calls it."""
        return f"{self.use}.{self.serial}"

    @property
    def uses(self) -> set[int]:
        """The keys of everything by which it may have been marked: what was written of it, as first written."""
        makings = (part.making for part in self.parts)
        return {one[1] for making in makings for one in (making.lay_up, making.end) if one is not None}

    @property
    def is_cut(self) -> bool:
        """Whether it was cut there, not made."""
        return self.first.how == TRIMMED


def lines_of(parts: Iterable[tuple[Part, bool, bool]]) -> list[InDoubt]:
    """A line a number and one for those without, newest first; what lay under later coats behind the others.

    Each part comes with whether it is from after the stop, and whether the lot was under later coats. A number that
    stands at both halves of a matched set is one part.
    """
    found: list[InDoubt] = []
    halves: dict[tuple[str, str, str], list[InDoubt]] = defaultdict(list)
    newest = sorted(parts, key=lambda one: (by_key(one[0].making.first), one[0].tool.code), reverse=True)
    for part, after, under in newest:
        for number in part.numbers:
            of_set = halves[(part.tool.matched_set or f"{part.tool.pk}", part_key(part.part), whole_key(number))]
            other = next((one for one in of_set if part.tool.pk not in {half.tool.pk for half in one.parts}), None)
            if other is not None:
                other.parts.append(part)
                other.after, other.under = other.after or after, other.under and under
                continue
            of_set.append(InDoubt([part], number, 1, after, under))
            found.append(of_set[-1])
        if part.without:
            found.append(InDoubt([part], "", part.without, after, under))
    return sorted(found, key=lambda line: line.under)


def mark(lines: Iterable[InDoubt], marks: Iterable[Found]) -> list[ContainmentMark]:
    """Puts each mark to its line. Returns those that belong to none: void by now, or in doubt no more."""
    by_use = {(use, line.serial): line for line in lines for use in line.uses}
    stray = []
    for one in marks:
        line = by_use.get((one.mark.use_id, one.mark.serial))
        if line is None:
            stray.append(one.mark)
        else:
            line.mark, line.before = one.mark, one.before
    return stray


def tell_more(lines: list[InDoubt]) -> None:
    """Adds the revision of each, and where else its number stands. Two queries for up to 500 lines, however old."""
    for begin in range(0, len(lines), _AT_ONCE):
        piece = lines[begin : begin + _AT_ONCE]
        revisions = dict(_revisions(piece))
        met = _met(piece)
        for line in piece:
            facts = [fact.id for part in line.parts for fact in (part.lay_up, part.end) if fact is not None]
            line.revision = next((said for pk in facts if (said := revisions.get(pk))), "")
            own = {part.tool.pk for part in line.parts}
            others = met.get(line.serial, []) if line.number else []
            line.met = [one for name, one in others if name in ("", key_of(line.first.part)) and one.tool.pk not in own]
            line.met = _that_fit(line, line.met)


def _revisions(lines: Iterable[InDoubt]) -> Iterator[tuple[int, str]]:
    keys = {f.id for line in lines for part in line.parts for f in (part.lay_up, part.end) if f is not None}
    said = Entry.objects.filter(pk__in=keys, payload__has_key="revision")
    return iter(said.values_list("pk", KT("payload__revision")))


def _met(lines: Iterable[InDoubt]) -> Mapping[str, list[tuple[str, Met]]]:
    """By number: the part that it is of there, and the tool. What is void met nothing."""
    found: dict[str, list[tuple[str, Met]]] = defaultdict(list)
    standing = Entry.objects.filter(kind__in=("pull", "lay_up", "used")).standing()
    rows = SerialNumber.objects.filter(key__in={line.serial for line in lines if line.number}, entry__in=standing)
    for row in rows.select_related("entry__tool").order_by("entry__at", "pk"):
        there = found[row.key]
        if row.entry.tool_id not in {met.tool.pk for name, met in there if name == row.part}:
            there.append((row.part, Met(row.entry.tool, row.entry.at)))
    return found


def _that_fit(line: InDoubt, met: list[Met]) -> list[Met]:
    """Of what was made the trim masks, of what was cut what it came out of; of the same hand where a hand is said."""
    hands = {part.tool.hand for part in line.parts} - {""}
    fit = [one for one in met if not one.tool.hand or not hands or one.tool.hand in hands]
    if line.is_cut:
        return [one for one in fit if one.tool.kind not in (Kind.TRIM_MASK, Kind.INSERT)]
    return [one for one in fit if one.tool.kind == Kind.TRIM_MASK]
