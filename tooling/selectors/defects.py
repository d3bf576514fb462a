"""The defects of a tool as of a moment: what each is, how it went from visit to visit, and which are open."""

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import datetime
from decimal import Decimal

from django.db.models import QuerySet

from tooling.calc.defect_lines import CLOSED, FOUND, OPENED
from tooling.models import Defect, DefectMark, Entry, Picture, Tool
from tooling.words.terms import DEFECTS, SPOTS, term

_WITH = ("defect__picture", "entry__by", "entry__tool", "entry__recorded_by")


@dataclass(frozen=True, slots=True)
class Visit:
    """What one entry says of a defect. `again`: it says closed of what was closed already.

    pictures: those that were given with it of this defect; read for one defect's story alone.
    """

    entry: Entry
    did: str
    size_mm: Decimal | None
    words: str
    again: bool = False
    pictures: tuple[Picture, ...] = ()


@dataclass(frozen=True, slots=True)
class DefectNow:
    """One defect with its visits that stand, the first of them first; there is at least one."""

    defect: Defect
    visits: tuple[Visit, ...]

    @property
    def number(self) -> int:
        """Within the tool, from 1."""
        return self.defect.number

    @property
    def kind(self) -> str:
        """What it is, in the words of the trade."""
        return term(DEFECTS, self.defect.kind)

    @property
    def where(self) -> str:
        """On what of the tool it is; "" where nobody said."""
        return term(SPOTS, self.defect.place) if self.defect.place else ""

    @property
    def mark(self) -> tuple[int, int] | None:
        """Its place on `defect.picture`, in thousandths; None where it is on none."""
        return None if self.defect.x is None or self.defect.y is None else (self.defect.x, self.defect.y)

    @property
    def last(self) -> Visit:
        """The latest visit: it says whether the defect is open."""
        return self.visits[-1]

    @property
    def found(self) -> Visit | None:
        """The visit that found it; None where that is void, or nobody wrote it."""
        return next((one for one in self.visits if one.did == FOUND), None)

    @property
    def is_open(self) -> bool:
        """Whether it is still there, as far as anybody said."""
        return self.last.did != CLOSED

    @property
    def closed_by(self) -> Visit | None:
        """The visit that closed it; None while it is open."""
        if self.is_open:
            return None
        return next(one for one in reversed(self.visits) if one.did == CLOSED and not one.again)

    @property
    def sizes(self) -> tuple[Decimal, ...]:
        """What was measured of it since it was found or came back, the first first."""
        since = max((at for at, one in enumerate(self.visits) if one.did == OPENED), default=0)
        return tuple(one.size_mm for one in self.visits[since:] if one.size_mm is not None)

    @property
    def size_mm(self) -> Decimal | None:
        """The size measured last."""
        return self.sizes[-1] if self.sizes else None

    @property
    def first_mm(self) -> Decimal | None:
        """The size measured first, since it was found or came back."""
        return self.sizes[0] if self.sizes else None


def defects_of(tool: Tool, at: datetime, *, leaving_out: int | None = None) -> list[DefectNow]:
    """All defects of a tool as its history said at a moment, by their numbers. One query, however many.

    leaving_out: an entry that is not to be read.
    """
    return _now(_marks(tool, at).exclude(entry=leaving_out))


def open_defects(tool: Tool, at: datetime) -> list[DefectNow]:
    """Those that are still there. One query."""
    return [one for one in defects_of(tool, at) if one.is_open]


def defect_story(tool: Tool, number: int, at: datetime) -> DefectNow | None:
    """One defect with the pictures of each visit; None where nothing of it stands. Two queries."""
    found = _now(_marks(tool, at).filter(defect__number=number))
    if not found:
        return None
    one, given = found[0], _pictures(found[0].defect)
    visits = [replace(see, pictures=tuple(given.pop(see.entry.pk, ()))) for see in one.visits]
    # Given with a stop before anybody kept it as a defect.
    before = tuple(picture for of in given.values() for picture in of)
    visits[0] = replace(visits[0], pictures=before + visits[0].pictures)
    return replace(one, visits=tuple(visits))


def open_by_tool(marks: Iterable[DefectMark]) -> Counter[int]:
    """How many defects are open by these marks, which stand, by the key of each tool."""
    return Counter(one.defect.tool_id for one in _now(marks) if one.is_open)


def _marks(tool: Tool, at: datetime) -> QuerySet[DefectMark]:
    return DefectMark.objects.standing().filter(defect__tool=tool, entry__at__lte=at).select_related(*_WITH)


def _now(marks: Iterable[DefectMark]) -> list[DefectNow]:
    by_number: dict[tuple[int, int], list[DefectMark]] = {}
    for mark in sorted(marks, key=in_order):
        by_number.setdefault((mark.defect.tool_id, mark.defect.number), []).append(mark)
    return [DefectNow(of[0].defect, tuple(_visits(of))) for _number, of in sorted(by_number.items())]


def in_order(mark: DefectMark) -> tuple[datetime, bool, int]:
    """As they happened; at the same moment what found it comes first."""
    return mark.entry.at, mark.did != FOUND, mark.entry_id


def _visits(marks: Iterable[DefectMark]) -> Iterable[Visit]:
    closed = False
    for mark in marks:
        yield Visit(mark.entry, mark.did, mark.size_mm, mark.words, again=closed and mark.did == CLOSED)
        closed = mark.did == CLOSED


def _pictures(defect: Defect) -> dict[int, list[Picture]]:
    found: dict[int, list[Picture]] = {}
    for picture in Picture.objects.on().filter(defect=defect, entry__isnull=False).select_related("entry", "tool"):
        found.setdefault(picture.entry_id or 0, []).append(picture)
    return found
