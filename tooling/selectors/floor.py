"""What a hand must know of one tool before a deed: its state, the inserts in it, what was laid up in it."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from operator import attrgetter

from django.db.models import Q

from tooling.calc.ahead import Ahead, coats_ahead
from tooling.calc.state import PartIn, decode
from tooling.models import Entry, PartRevision, Person, RecipeVersion, Shop, Summary, Tool
from tooling.selectors.holds import HoldSaid, said_with_pictures, standing_holds
from tooling.selectors.in_making import steps_now
from tooling.selectors.rows import Row, rows, shown
from tooling.words.lines import Around, said_of
from tooling.words.status import Sentence

# Longer than a part lies in a mold anywhere: beyond, a number in the catalogue is a slip.
LONGEST_IN_MOLD = timedelta(days=90)


@dataclass(frozen=True)
class Floor:
    """A tool as it stands at a moment, with the mold inserts that are in it."""

    tool: Tool
    summary: Summary
    shop: Shop
    at: datetime
    row: Row | None
    inserts: tuple[Row, ...]

    @property
    def recipe(self) -> RecipeVersion | None:
        """The recipe in force on the tool's own surface."""
        return self.row.recipe if self.row is not None else None

    @property
    def codes(self) -> tuple[str, ...]:
        """Its code alone, where a page may be about several tools."""
        return (self.tool.code,)

    @property
    def family(self) -> str:
        """The family of its own recipe; "other" where it has none."""
        return self.recipe.family if self.recipe is not None else "other"

    @property
    def part_in(self) -> PartIn | None:
        """The part that lies in it."""
        return self.row.own.in_mold if self.row is not None else None

    @property
    def said(self) -> Sentence | None:
        """Its state as a sentence; a trim mask has one only while it is held or retired."""
        if self.row is None:
            return None
        steps = steps_now([self.tool.pk]) if self.summary.making else {}
        return said_of(self.row, Around(self.at, self.shop.zone), steps=steps)


def record_begins(tool: Tool) -> datetime | None:
    """Since when something is written of a tool; None where nothing is."""
    return Entry.objects.filter(tool=tool).order_by("at").values_list("at", flat=True).first()


def floor(tool: Tool, at: datetime) -> Floor:
    """The tool and its inserts, from stored rows; an entry a moment ahead of this machine's clock counts as now."""
    still = Q(until_at=None) | Q(until_at__gt=at)
    own = next(iter(rows(shown().filter(still, tool=tool).order_by("from_at")[:1], at)), None)
    summary = Summary.objects.select_related("in_mold_of").get(tool=tool)
    return Floor(tool, summary, Shop.current(), at, own, own.inside if own is not None else ())


def ahead(on: Floor) -> Ahead | None:
    """The coats that the tool's own surface wants; None without a recipe."""
    if on.recipe is None:
        return None
    return coats_ahead(decode(on.summary.state), on.recipe.as_calc(), on.shop.zone, on.at)


def standing_entries(tool: Tool, *kinds: str, most: int = 50) -> list[Entry]:
    """The newest standing entries of these kinds, newest first."""
    entries = Entry.objects.filter(tool=tool, kind__in=kinds).standing()
    return sorted(entries.select_related("by").order_by("-at")[:most], key=attrgetter("at", "pk"), reverse=True)


def recent_parts(tool: Tool, most: int = 4) -> list[str]:
    """What was made in the tool last, without saying one twice."""
    made = (entry.part for entry in standing_entries(tool, "lay_up", "pull"))
    return list(dict.fromkeys(part for part in made if part))[:most]


def recent_lots(tool: Tool) -> list[str]:
    """The lots that were used on the tool last."""
    return recent_words(tool, "lot", "coat", "sealer", "film")


def recent_words(tool: Tool, name: str, *kinds: str, most: int = 5) -> list[str]:
    """What entries of these kinds said last under a name, without saying one twice."""
    said = (entry.payload.get(name) for entry in standing_entries(tool, *kinds))
    return list(dict.fromkeys(one for one in said if one))[:most]


def time_in_mold(part: str, revision: PartRevision | None = None) -> timedelta | None:
    """How long after the start of lay-up the part may come out, by the newest revision; None where nobody has said."""
    revision = revision or _newest(part)
    return _lasting(revision, float(revision.layup_minutes or 0)) if revision is not None else None


def time_after_last_ply(part: str) -> timedelta | None:
    """How long after the last ply the part may come out; None where nobody has said."""
    revision = _newest(part)
    return _lasting(revision, 0) if revision is not None else None


def earliest_after_last_ply(tool: Tool) -> datetime | timedelta | None:
    """The own time of the part that is in the tool, from the last ply on; else what was set at the start."""
    summary = Summary.objects.get(tool=tool)
    inside = decode(summary.state).part
    return time_after_last_ply(summary.part) or (inside.earliest_pull if inside is not None else None)


def _newest(part: str) -> PartRevision | None:
    if not part:
        return None
    return PartRevision.objects.filter(part__number__iexact=part.strip()).newest_first().first()


def _lasting(revision: PartRevision, minutes: float) -> timedelta | None:
    if revision.in_mold_hours is None:
        return None
    try:
        long = timedelta(minutes=minutes, hours=float(revision.in_mold_hours))
    except OverflowError:
        return None
    return long if timedelta(0) < long <= LONGEST_IN_MOLD else None


def times_in_mold(parts: Sequence[str]) -> dict[str, timedelta]:
    """The known times of some parts."""
    known = {part: time_in_mold(part) for part in parts}
    return {part: long for part, long in known.items() if long is not None}


def holds_said(on: Floor) -> dict[int, list[HoldSaid]]:
    """What holds the tool and each insert in it, every hold with its words and pictures, by their keys."""
    return said_with_pictures(
        standing_holds([(on.summary, on.recipe), *((row.summary, row.recipe) for row in on.inserts)]),
        on.at,
        on.shop.zone,
    )


def held_by(on: Floor) -> list[Person]:
    """Whose entries hold the tool; one of them letting it go is flagged."""
    return list(Person.objects.filter(pk__in=on.summary.state.get("held_by", [])).order_by("name_key"))
