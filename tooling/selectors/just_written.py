"""What a person has just written of a tool, for the strip of tape that lets them rub it out again."""

from dataclasses import dataclass
from datetime import datetime, timedelta
from math import ceil
from uuid import UUID, uuid4

from django.utils.translation import gettext as _

from shared.units import METRIC
from tooling.models import Entry, Flag, Person, Picture, Place, PlaceCount, Shop, Summary, Tool
from tooling.selectors.pictures import of_entries
from tooling.services.deeds.matched import written_with
from tooling.services.deeds.measured_with import measured_with, readings_with
from tooling.services.deeds.undo import RUB_OUT_WITHIN
from tooling.services.deeds.unseen import held_with_it, hold_of
from tooling.services.off_taken_back import TakingOff, taking_off
from tooling.words.entries import Around, Told, told
from tooling.words.flags import flag_words
from tooling.words.off_the_plug import taken_off
from tooling.words.when import clock

# Written down later than this after it happened, the strip says for when.
LATE = timedelta(minutes=5)


@dataclass(frozen=True)
class JustWritten:
    """The entry, the clock of its writing, what it says, its flags, its pictures, and the minutes for which it can be
    rubbed out. `held`: the tool is held with it, until somebody has looked; `holds`: it holds the tool by itself;
    `also`: the other halves of a matched set that the same form wrote to, or the plug that it came off, rubbed out with
    it.
    """

    entry: Entry
    clock: str
    told: Told
    flags: tuple[str, ...]
    minutes: int
    pictures: list[Picture]
    held: bool = False
    holds: bool = False
    also: tuple[str, ...] = ()

    @property
    def undo_token(self) -> UUID:
        """One for each time the strip is shown, so that rubbing out twice is rubbing out once."""
        return uuid4()

    @property
    def late_at(self) -> datetime | None:
        """When it happened, where it was written down later than at once."""
        return self.entry.at if self.entry.recorded_at - self.entry.at > LATE else None

    @property
    def tape_a_cross(self) -> bool:
        """A tool that was stopped is taped over at once: the next hand may have no phone."""
        return self.held or self.holds


def just_written(tool: Tool, person: Person, now: datetime, shop: Shop) -> JustWritten | None:
    """The last thing that the person wrote of the tool, while it can be rubbed out; None where that was a void."""
    since = now - RUB_OUT_WITHIN
    mine = Entry.objects.lately_by(person, since).of([tool.pk])
    last = mine.select_related("by", "replaces").order_by("-number").first()
    if last is not None and last.kind == "hold":
        # Held with a pull, a cut or a check: that is what was written.
        last = held_with_it(last) or last
    if last is not None:
        last = measured_with(last)
    if last is None or last.kind == "void" or Entry.objects.filter(voids=last).exists():
        return None
    if Entry.objects.filter(replaces=last).exists():
        return None
    last.tool = tool
    off = taking_off(last)
    also = [*(one.tool.code for one in written_with(last)), *([off.tool.code, off.pull.tool.code] if off else ())]
    return JustWritten(
        entry=last,
        clock=clock(last.recorded_at, shop.zone),
        told=_told(last, off, now, shop, person),
        flags=flags_of(last),
        held=hold_of(last) is not None,
        holds=last.kind == "hold" or _holds(last),
        minutes=max(1, ceil((last.recorded_at - since).total_seconds() / 60)),
        pictures=of_entries([last.pk]).get(last.pk, []),
        also=tuple(dict.fromkeys(code for code in also if code != tool.code)),
    )


def _told(entry: Entry, off: TakingOff | None, now: datetime, shop: Shop, person: Person) -> Told:
    """What an entry says; of one that begins what came off a plug, that it did."""
    if off is None or off.pull.pk == entry.pk:
        said = tell(entry, now, shop, person.units)
        values = [f"{tell(one, now, shop, person.units).head}." for one in readings_with(entry)]
        return Told(said.head, (*said.more, *values))
    return Told(taken_off(off.pull))


def _holds(entry: Entry) -> bool:
    """Whether it is what the tool is held on: a pull that marked it."""
    if entry.kind != "pull":
        return False
    state = Summary.objects.filter(tool=entry.tool).values_list("state", flat=True).first() or {}
    return entry.pk in state.get("holds", {}).values()


def tell(entry: Entry, now: datetime, shop: Shop, units: str = METRIC) -> Told:
    """What an entry says, with the codes of the tools and the names of the places it points to, as its history does."""
    if entry.kind == "void":
        return Told(_("Void"))
    tools = {pk for pk in (entry.mold_id, entry.payload.get("surface")) if pk is not None}
    place, count = entry.payload.get("place"), entry.payload.get("counted")
    return told(
        entry,
        Around(
            now,
            shop.zone,
            dict(Tool.objects.filter(pk__in=tools).values_list("pk", "code")) if tools else {},
            dict(Place.objects.filter(pk=place).values_list("pk", "name")) if place else {},
            units,
            dict(PlaceCount.objects.filter(number=count).values_list("number", "place__name")) if count else {},
        ),
    )


def flags_of(entry: Entry) -> tuple[str, ...]:
    """What the rules say of it, once each, on whatever surface."""
    codes = Flag.objects.filter(entry=entry).order_by("id").values_list("flag", flat=True)
    return tuple(flag_words(code, entry.tool.kind) for code in dict.fromkeys(codes))
