"""What was told to the lead and nobody has seen yet; and who saw what was told."""

from collections.abc import Iterable
from dataclasses import dataclass

from tooling.models import Entry, LeadNote, Picture
from tooling.selectors.pictures import of_entries

# As many as a person reads at once; those that were told first come first.
MOST = 20


@dataclass(frozen=True, slots=True)
class Unseen:
    """A note for the lead, and its pictures."""

    entry: Entry
    pictures: list[Picture]

    @property
    def words(self) -> str:
        """What was said; "" where the picture says it."""
        return str(self.entry.payload.get("note", ""))

    @property
    def is_held(self) -> bool:
        """Whether its tool is held by now."""
        return self.entry.tool.summary.held_since is not None


def unseen() -> list[Unseen]:
    """What no lead has seen yet, the first first; what is void is not told any more."""
    notes = LeadNote.objects.filter(seen_at=None, entry__voided_by=None).order_by("entry")
    found = [one.entry for one in notes.select_related("entry__tool__summary", "entry__by")[: MOST + 1]]
    pictures = of_entries(one.pk for one in found)
    return [Unseen(one, pictures.get(one.pk, [])) for one in found]


def unseen_of(tools: Iterable[int]) -> list[Entry]:
    """What was told of these tools and no lead has seen yet, the first first; no more than a person reads."""
    notes = LeadNote.objects.filter(seen_at=None, entry__voided_by=None, entry__tool__in=list(tools))
    return [one.entry for one in notes.select_related("entry__tool", "entry__by").order_by("entry")[:MOST]]


def seen_of(entries: Iterable[Entry]) -> dict[int, LeadNote]:
    """Of those entries that were told to the lead: whether one has seen them. No query where none was."""
    told = [one.pk for one in entries if one.payload.get("for_lead")]
    if not told:
        return {}
    return {one.entry_id: one for one in LeadNote.objects.filter(entry__in=told).select_related("seen_by")}
