"""Counts of places: what one has met, what it has not, what has its home elsewhere, and which are still open."""

from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from datetime import datetime, timedelta
from functools import cached_property

from django.db.models import F, Q, QuerySet

from tooling.models import CountMark, Entry, Found, Person, Place, PlaceCount, Summary, Tool
from tooling.selectors.count_lines import Line, Sorted, Tree, as_of
from tooling.selectors.place_tree import below, parents, upward

# A count in which nothing was scanned for so long was broken off: somebody is asked to go on.
BROKEN_OFF = timedelta(hours=1)
# One in so many not met is asked about before they are said to be missing.
MUCH = 3


@dataclass(frozen=True)
class CountPage:
    """A count: what was met, from the top; what was not; what is not looked for; what nobody knew.

    excused: lent, in a mold, or with a part in it elsewhere: not missing. last_at: when it last wrote a line. All of it
    is as of the end of the count, once it has one; today: how those stand now that were missing then or not at home.
    """

    count: PlaceCount
    tree: Tree
    seen: list[Line]
    not_met: list[Line]
    excused: list[Line]
    unknown: list[CountMark]
    last_at: datetime
    today: list[Line] = field(default_factory=list)

    @cached_property
    def not_met_keys(self) -> set[int]:
        """The tools that may still be missing."""
        return {line.tool.pk for line in self.not_met}

    @cached_property
    def to_miss(self) -> list[Line]:
        """What the end of the count would say of: not met, and nobody has said so yet."""
        return [line for line in self.not_met if not line.missed]

    @property
    def misses_much(self) -> bool:
        """Whether so much was not met that the count may have been broken off: more than a third."""
        return len(self.to_miss) * MUCH > self.expected

    @cached_property
    def met_keys(self) -> set[int]:
        """The tools that were met."""
        return {line.tool.pk for line in self.seen}

    @cached_property
    def elsewhere(self) -> list[Line]:
        """What was met, still lies here, and has its home elsewhere or none."""
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
    rows = list(_rows(count, here, last))
    ended = count.ended_at
    found = Sorted(tree, here, last, count.begun_at).take(rows, None if ended is None else as_of(rows, ended))
    page = CountPage(
        count,
        tree,
        found.seen,
        found.not_met,
        found.excused,
        [mark for mark in marks if mark.found == Found.UNKNOWN],
        max([count.begun_at, *(mark.at for mark in marks)]),
    )
    return page if ended is None else replace(page, today=found.today)


def _marks(count: PlaceCount, at: datetime | None) -> QuerySet[CountMark]:
    """What counts, the latest word on a tool last."""
    marks = count.marks.standing().select_related("entry", "by").order_by("entry_id", "pk")
    return marks if at is None else marks.filter(at__lte=at)


def _rows(count: PlaceCount, places: set[int], last: Iterable[int]) -> QuerySet[Summary]:
    """What should lie there, has its home there, or was named; once it is ended only what was named."""
    here = Q(lies__in=places, retired=False) | Q(home__in=places, retired=False)
    wanted = Q(pk__in=list(last)) | here if count.ended_at is None else Q(pk__in=list(last))
    rows = Summary.objects.filter(wanted).select_related("tool", "home", "seen_place", "in_mold_of")
    return rows.order_by("tool__code")


def open_at(place: Place) -> PlaceCount | None:
    """The open count that a place is part of."""
    # Hardly ever is one open: only then the tree is read.
    counts = {count.place_id: count for count in PlaceCount.objects.going_on().select_related("place", "begun_by")}
    above = upward(parents(), place.pk) if counts else ()
    return next((counts[key] for key in above if key in counts), None)


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


def met_where_known(tool: Tool, person: Person, at: datetime) -> Place | None:
    """Where a tool is known to lie, else its home, where this person counts just now what that is part of."""
    summary = Summary.objects.select_related("home").get(tool=tool)
    known = (Place.objects.filter(pk=summary.lies).first(), summary.home)
    return next((place for place in known if open_count_of(place, person, at) is not None), None)


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
