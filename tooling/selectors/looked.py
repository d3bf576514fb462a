"""One look at a tool: what was asked in that version of the checklist, answered, measured, said of defects."""

from dataclasses import dataclass

from tooling.calc.answers import Answer, read_answers
from tooling.models import Checklist, ChecklistItem, DefectMark, Entry, Picture, Purpose
from tooling.selectors.checklists import version_of
from tooling.selectors.pictures import of_entries
from tooling.services.deeds.measured_with import measured_since

# The kinds of entry that answer a checklist, and which one.
PURPOSE_OF = {"inspected": Purpose.LOOK_OVER, "accepted": Purpose.ACCEPTANCE}
# What an `inspected` says as its evidence where it was one before the first use, and held the tool.
BEFORE_USE = "acceptance"
# Nobody measures more with one look.
_MOST_READINGS = 500


@dataclass(frozen=True, slots=True)
class Line:
    """What was asked, what was answered (None: nothing), and the readings that were taken of it.

    item: None where the version has no such line, or nobody knows the version.
    """

    number: int
    item: ChecklistItem | None
    answer: Answer | None
    readings: tuple[Entry, ...] = ()


@dataclass(frozen=True, slots=True)
class Look:
    """An entry with all that was said with it. readings: those of no line; unread: answers that say nothing.

    standing: neither void nor replaced; version: the number that the entry names, also where no such version is known.
    """

    entry: Entry
    version: int | None
    checklist: Checklist | None
    lines: tuple[Line, ...]
    readings: tuple[Entry, ...]
    defects: tuple[DefectMark, ...]
    pictures: tuple[Picture, ...]
    unread: str
    standing: bool

    @property
    def odd(self) -> tuple[Line, ...]:
        """Answers to lines that the version does not have."""
        return tuple(line for line in self.lines if line.item is None)


def purpose_of(entry: Entry) -> Purpose:
    """For which look it was: an acceptance that was refused is written as a look that did not pass."""
    return Purpose.ACCEPTANCE if entry.payload.get("evidence") == BEFORE_USE else PURPOSE_OF[entry.kind]


def look_of(entry: Entry) -> Look:
    """All of one look, in as many queries however long the history of its tool is."""
    version = entry.payload.get("checklist")
    checklist = version_of(entry.tool.kind, purpose_of(entry), version)
    answers, unread = _answers(entry)
    readings = _readings(entry)
    items = {item.order: item for item in checklist.items.all()} if checklist is not None else {}
    lines, taken = [], set[int]()
    for number in sorted({*items, *answers}):
        item = items.get(number)
        of = tuple(one for one in readings if item is not None and _is_of(one, item) and one.pk not in taken)
        taken.update(one.pk for one in of)
        lines.append(Line(number, item, answers.get(number), of))
    marks = entry.defect_marks.select_related("defect").order_by("defect__number")
    return Look(
        entry=entry,
        version=version,
        checklist=checklist,
        lines=tuple(lines),
        readings=tuple(one for one in readings if one.pk not in taken),
        defects=tuple(marks),
        pictures=tuple(of_entries([entry.pk]).get(entry.pk, ())),
        unread=unread,
        standing=Entry.objects.filter(pk=entry.pk).standing().exists(),
    )


def _answers(entry: Entry) -> tuple[dict[int, Answer], str]:
    text = entry.payload.get("answers", "")
    try:
        return {one.item: one for one in read_answers(text)}, ""
    except ValueError:
        return {}, text


def _readings(entry: Entry) -> list[Entry]:
    """What was measured with it, by its form; where an import brought it, what has its moment.

    Where it was corrected since, that of what it stood for.
    """
    written = entry.with_earlier()
    if written[-1].token is not None:
        return measured_since(written[-1])
    times = [one.at for one in written]
    found = Entry.objects.filter(tool=entry.tool_id, kind="reading", at__in=times).standing().order_by("number")
    return list(found[:_MOST_READINGS])


def _is_of(reading: Entry, item: ChecklistItem) -> bool:
    """Whether it is what the line asks for; in another unit it is that as well."""
    said = reading.payload
    asked = ((said.get("quantity", ""), item.quantity), (said.get("geometry", ""), item.geometry))
    return bool(item.quantity) and all(one.casefold() == other.casefold() for one, other in asked)
