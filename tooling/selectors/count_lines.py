"""The tools of a count of a place, one line each: met, not met, or not looked for."""

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Self

from django.db.models import OuterRef, Subquery

from shared.natural import natural
from tooling.models import CountMark, Entry, Found, Place, Summary, Tool
from tooling.selectors.place_tree import in_order, upward, within
from tooling.selectors.whereabouts import whereabouts


@dataclass(frozen=True, slots=True)
class Stood:
    """How a tool stood when the count is told: the keys of where it lay and of its home; whether it was seen there.

    looked: when that was, where it matters. excused: lent, in a mold, or in use elsewhere.
    """

    lies: int | None
    home: int | None
    retired: bool
    seen: bool
    looked: datetime | None = None
    excused: bool = False


@dataclass(frozen=True, slots=True)
class Line:
    """A tool in a count. `mark`: the last thing that the count says of it; `place`: where it was met; `home`: where it
    had its home then. `fits`: that is the same; `belongs`: it has its home there or elsewhere in what is counted.
    """

    summary: Summary
    mark: CountMark | None = None
    place: Place | None = None
    home: Place | None = None
    retired: bool = False
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
        """Whether what has its home at `home` is at home at a place: the shelf of its bay will do, and so will its
        rack.
        """
        if place is None or home is None:
            return False
        return home in upward(self.parents, place) or place in upward(self.parents, home)


class Sorted:
    """The lines of a count, sorted. today: how what was missing or away from home at its end stands by now."""

    def __init__(self, tree: Tree, places: Collection[int], last: Mapping[int, CountMark], begun_at: datetime) -> None:
        """places: the keys of what is counted; last: the last mark of each tool that has one."""
        self.tree, self.places, self.last, self.begun_at = tree, places, last, begun_at
        self.seen: list[Line] = []
        self.not_met: list[Line] = []
        self.excused: list[Line] = []
        self.today: list[Line] = []

    def take(self, rows: Sequence[Summary], stood: Mapping[int, Stood] | None) -> Self:
        """All of them. stood: how each stood at the end of the count; None: it goes on."""
        for summary in rows:
            now = self._now(summary)
            line = self._take(summary, now if stood is None else stood[summary.tool_id])
            if stood is not None and (line in self.not_met or not line.fits):
                self.today.append(self._line(summary, now))
        self.seen.sort(key=self._from_the_top)
        return self

    def _take(self, summary: Summary, stood: Stood) -> Line:
        line = self._line(summary, stood)
        if self._met(line.mark, stood):
            self.seen.append(line)
        elif line.mark is None and stood.excused:
            self.excused.append(line)
        else:
            self.not_met.append(line)
        return line

    def _now(self, summary: Summary) -> Stood:
        here = summary.lies in self.places
        excused = summary.lent or summary.in_mold_of_id is not None or (not here and summary.laid_up_at is not None)
        looked = summary.seen_at
        return Stood(summary.lies, summary.home_id, summary.retired, looked is not None, looked, excused)

    def _line(self, summary: Summary, stood: Stood) -> Line:
        mark, place = self.last.get(summary.tool_id), stood.lies
        if mark is not None and mark.entry is not None and mark.found == Found.SEEN:
            place = mark.entry.payload.get("place")
        return Line(
            summary,
            mark,
            self.tree.places.get(place or 0),
            self.tree.places.get(stood.home or 0),
            stood.retired,
            stood.lies not in self.places or (self.tree.fits(stood.lies, stood.home) and not stood.retired),
            stood.home in self.places,
        )

    def _met(self, mark: CountMark | None, stood: Stood) -> bool:
        """Seen in this count; or put there meanwhile, by whatever way."""
        if mark is not None and mark.found == Found.SEEN:
            return True
        if not stood.seen or stood.lies not in self.places:
            return False
        since = self.begun_at if mark is None else mark.at
        return stood.looked is None or stood.looked > since

    def _from_the_top(self, line: Line) -> tuple[int, tuple[tuple[int, str], ...]]:
        """In the order of the places, and by code on each."""
        place = line.place
        nth = self.tree.order[place.pk] if place is not None else len(self.tree.order)
        return nth, natural(line.tool.code)


def as_of(rows: Sequence[Summary], at: datetime) -> dict[int, Stood]:
    """How these tools stood at a moment, by their keys, in as many queries for many as for one."""
    keys = [summary.tool_id for summary in rows]
    retired = _retired(keys, at)
    return {
        key: Stood(
            None if where.mold is not None or where.lent or where.place is None else where.place.pk,
            where.home.pk if where.home is not None else None,
            key in retired,
            where.seen,
        )
        for key, where in whereabouts(keys, at).items()
    }


def _retired(keys: Sequence[int], at: datetime) -> set[int]:
    last = Entry.objects.filter(tool=OuterRef("pk"), kind__in=("retired", "reinstated"), at__lte=at).standing()
    found = Tool.objects.filter(pk__in=keys).annotate(last=Subquery(last.order_by("-at", "-pk").values("kind")[:1]))
    return set(found.filter(last="retired").values_list("pk", flat=True))
