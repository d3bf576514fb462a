"""Counts of places: what one has met, what it has not, what lives elsewhere, and which of them are still open."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime, timedelta
from functools import cached_property

from django.db.models import F, Q, QuerySet

from shared.natural import natural
from tooling.models import CountMark, Entry, Found, Person, Place, PlaceCount, Summary, Tool
from tooling.selectors.place_tree import below, in_order, parents, upward, within

# A count in which nothing was scanned for so long was broken off: somebody is asked to go on.
BROKEN_OFF = timedelta(hours=1)


@dataclass(frozen=True, slots=True)
class Line:
    """A tool in a count, as it stands today. `mark`: the last thing that the count says of it; `place`: where it was
    met. `fits`: that is where it lives; `belongs`: it lives there or elsewhere in what is counted.
    """

    summary: Summary
    mark: CountMark | None = None
    place: Place | None = None
    fits: bool = True
    belongs: bool = True

    @property
    def tool(self) -> Tool:
        """The tool."""
        return self.summary.tool

    @property
    def missed(self) -> bool:
        """Whether somebody has said that it is not there."""
        return self.mark is not None and self.mark.found == Found.MISSING


@dataclass(frozen=True)
class CountPage:
    """A count: what was met, from the top; what was not; what is not looked for; what nobody knew.

    excused: lent, in a mold, or with a part in it elsewhere: not missing. last_at: when it last wrote a line.
    """

    count: PlaceCount
    tree: "Tree"
    seen: list[Line]
    not_met: list[Line]
    excused: list[Line]
    unknown: list[CountMark]
    last_at: datetime

    @cached_property
    def not_met_keys(self) -> set[int]:
        """The tools that may still be missing."""
        return {line.tool.pk for line in self.not_met}

    @cached_property
    def met_keys(self) -> set[int]:
        """The tools that were met."""
        return {line.tool.pk for line in self.seen}

    @cached_property
    def elsewhere(self) -> list[Line]:
        """What was met, still lies here, and lives elsewhere or nowhere."""
        return [line for line in self.seen if not line.fits]

    @cached_property
    def to_settle(self) -> list[CountMark]:
        """Tags of which nobody has said yet what they are."""
        return [mark for mark in self.unknown if not mark.settled]

    @property
    def expected(self) -> int:
        """How many should lie here, with those that are not looked for."""
        return self.met + len(self.not_met) + len(self.excused)

    @property
    def met(self) -> int:
        """How many of these were met."""
        return sum(line.belongs for line in self.seen)

    def broken_off(self, at: datetime) -> bool:
        """Whether it is open and nobody went on with it."""
        return self.count.ended_at is None and at - self.last_at > BROKEN_OFF


class Tree:
    """All places, read once: what lies within which."""

    def __init__(self) -> None:
        """One query."""
        self.places = Place.objects.in_bulk()
        self.parents = {key: place.parent_id for key, place in self.places.items()}
        self.order = {place.pk: nth for nth, (place, _depth) in enumerate(in_order(self.places.values()))}

    def below(self, place: int) -> set[int]:
        """The key of a place and of all that lies within it."""
        return within(self.parents, [place])

    def fits(self, place: int | None, home: int | None) -> bool:
        """Whether what lives at `home` is at home at a place: the shelf of its bay will do, and so will its rack."""
        if place is None or home is None:
            return False
        return home in upward(self.parents, place) or place in upward(self.parents, home)


def count_page(number: int, at: datetime) -> CountPage | None:
    """The count of that number, with all that was scanned by a moment; None where there is none."""
    count = PlaceCount.objects.select_related("place", "begun_by", "ended_by").filter(number=number).first()
    return as_it_stands(count, at) if count is not None else None


def as_it_stands(count: PlaceCount, at: datetime | None = None) -> CountPage:
    """A count in as many queries, however much lies there."""
    tree = Tree()
    here = tree.below(count.place_id)
    marks = list(_marks(count, at))
    last = {mark.tool_id: mark for mark in marks if mark.tool_id is not None}
    reader = _Sorted(count, tree, here, last)
    for summary in _rows(count, here, last):
        reader.take(summary)
    return CountPage(
        count,
        tree,
        sorted(reader.seen, key=reader.from_the_top),
        reader.not_met,
        reader.excused,
        [mark for mark in marks if mark.found == Found.UNKNOWN],
        max([count.begun_at, *(mark.at for mark in marks)]),
    )


def _marks(count: PlaceCount, at: datetime | None) -> QuerySet[CountMark]:
    """What counts, the latest word on a tool last."""
    marks = count.marks.standing().select_related("entry", "by").order_by("entry_id", "pk")
    return marks if at is None else marks.filter(at__lte=at)


def _rows(count: PlaceCount, places: set[int], last: Iterable[int]) -> QuerySet[Summary]:
    """What should lie there, lives there, or was named; once it is ended only what was named."""
    here = Q(lies__in=places, retired=False) | Q(home__in=places, retired=False)
    wanted = Q(pk__in=list(last)) | here if count.ended_at is None else Q(pk__in=list(last))
    rows = Summary.objects.filter(wanted).select_related("tool", "home", "seen_place", "in_mold_of")
    return rows.order_by("tool__code")


class _Sorted:
    """Sorts the tools of a count, one after the other."""

    def __init__(self, count: PlaceCount, tree: Tree, places: set[int], last: dict[int, CountMark]) -> None:
        self.count, self.tree, self.places, self.last = count, tree, places, last
        self.seen: list[Line] = []
        self.not_met: list[Line] = []
        self.excused: list[Line] = []

    def take(self, summary: Summary) -> None:
        """One more."""
        mark, here = self.last.get(summary.tool_id), summary.lies in self.places
        if self._met(summary, mark, here):
            place = summary.lies
            if mark is not None and mark.entry is not None and mark.found == Found.SEEN:
                place = mark.entry.payload.get("place")
            fits = not here or (self.tree.fits(summary.lies, summary.home_id) and not summary.retired)
            belongs = summary.home_id in self.places
            self.seen.append(Line(summary, mark, self.tree.places.get(place or 0), fits, belongs))
        elif mark is None and (summary.lent or summary.in_mold_of_id is not None or self._in_use(summary, here)):
            self.excused.append(Line(summary))
        else:
            self.not_met.append(Line(summary, mark))

    def _met(self, summary: Summary, mark: CountMark | None, here: bool) -> bool:
        """Seen in this count; or put there meanwhile, by whatever way."""
        if mark is not None and mark.found == Found.SEEN:
            return True
        since = self.count.begun_at if mark is None else mark.at
        return here and summary.seen_at is not None and summary.seen_at > since

    def _in_use(self, summary: Summary, here: bool) -> bool:
        return not here and summary.laid_up_at is not None

    def from_the_top(self, line: Line) -> tuple[int, tuple[tuple[int, str], ...]]:
        """In the order of the places, and by code on each."""
        place = line.place
        nth = self.tree.order[place.pk] if place is not None else len(self.tree.order)
        return nth, natural(line.tool.code)


def open_at(place: Place) -> PlaceCount | None:
    """The open count that a place is part of."""
    counts = PlaceCount.objects.going_on().select_related("place")
    return counts.filter(place__in=upward(parents(), place.pk)).first()


def open_below(place: Place) -> PlaceCount | None:
    """An open count of a place that lies within this one."""
    inner = below([place.pk]) - {place.pk}
    return PlaceCount.objects.going_on().select_related("place").filter(place__in=inner).first()


def open_count_of(place: Place | None, person: Person, at: datetime) -> PlaceCount | None:
    """The open count in which this person counts just now and of which the place is part: what is put there was seen.

    One that was broken off counts no longer.
    """
    count = open_at(place) if place is not None else None
    if count is None:
        return None
    last = count.marks.filter(by=person).order_by("-at").values_list("at", flat=True).first()
    begun = count.begun_at if count.begun_by_id == person.pk else None
    lately = [when for when in (last, begun) if when is not None and at - when <= BROKEN_OFF]
    return count if lately else None


def where_met(page: CountPage, tool: Tool, shelf: Place | None) -> Place:
    """Where a tool is met: at the shelf whose tag was scanned; else where it lies in the counted place as far as
    anybody knows, else at its home there, else at the counted place itself.
    """
    if shelf is not None:
        return shelf
    summary = Summary.objects.get(tool=tool)
    here = page.tree.below(page.count.place_id)
    for known in (summary.lies, summary.home_id):
        if known in here:
            return page.tree.places[known]
    return page.count.place


def lies_within(place: int, of: int) -> bool:
    """Whether a place is another one, or lies within it."""
    return of in upward(parents(), place)


def last_met(count: PlaceCount, tool: Tool) -> Entry | None:
    """The entry by which a count met a tool, where the tool still lies as it says."""
    mark = count.marks.standing().filter(tool=tool).select_related("entry").order_by("-entry_id").first()
    if mark is None or mark.entry is None or mark.found != Found.SEEN:
        return None
    lies = Summary.objects.values_list("lies", flat=True).get(tool=tool)
    return mark.entry if mark.entry.payload.get("place") == lies else None


@dataclass(frozen=True, slots=True)
class Counted:
    """A count in the list of all: how many tools it met and missed, how many tags nobody knew, when it last went on."""

    count: PlaceCount
    seen: int
    missing: int
    unknown: int
    last_at: datetime

    def broken_off(self, at: datetime) -> bool:
        """Whether it is open and nobody went on with it."""
        return self.count.ended_at is None and at - self.last_at > BROKEN_OFF


def counts() -> QuerySet[PlaceCount]:
    """All counts, those that are open first, then the last that was ended."""
    rows = PlaceCount.objects.select_related("place", "begun_by", "ended_by")
    return rows.order_by(F("ended_at").desc(nulls_first=True), "-number")


def what_came_of(of: Iterable[PlaceCount]) -> list[Counted]:
    """The same counts with what came of each, in one query."""
    of = list(of)
    last: dict[int, dict[int, str]] = {count.pk: {} for count in of}
    unknown = dict.fromkeys(last, 0)
    went_on = {count.pk: count.begun_at for count in of}
    marks = CountMark.objects.standing().filter(count__in=last).order_by("entry_id", "pk")
    for count, tool, found, at in marks.values_list("count", "tool", "found", "at"):
        went_on[count] = max(went_on[count], at)
        if found == Found.UNKNOWN:
            unknown[count] += 1
        else:
            last[count][tool] = found
    return [
        Counted(
            one,
            sum(found == Found.SEEN for found in last[one.pk].values()),
            sum(found == Found.MISSING for found in last[one.pk].values()),
            unknown[one.pk],
            went_on[one.pk],
        )
        for one in of
    ]
