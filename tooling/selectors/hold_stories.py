"""Every hold that a tool ever had: why, by whom, what was looked at, and who freed it by which right."""

from dataclasses import dataclass, field
from datetime import datetime

from tooling.calc.holding import holds_of
from tooling.models import Entry, Flag, May, Picture, Right, Shop, Tool
from tooling.selectors.history import History, system_code
from tooling.selectors.hold_past import past_holds
from tooling.selectors.pictures import of_entries
from tooling.selectors.recipes import recipe_book
from tooling.selectors.rights import right_behind


@dataclass(frozen=True, slots=True)
class Held:
    """One hold of a tool. `ended`: the entry that lifted it; `void`: the one that took the hold back.

    `changed`: what stands in its place since it was corrected, where that holds nothing.
    """

    entry: Entry
    reasons: tuple[str, ...] = ()
    ended: Entry | None = None
    void: Entry | None = None
    changed: Entry | None = None
    pictures: list[Picture] = field(default_factory=list)

    @property
    def stands(self) -> bool:
        """Whether it holds the tool still."""
        return self.ended is None and self.void is None and self.changed is None


@dataclass(frozen=True, slots=True)
class Story:
    """One hold for ever. `looks`: every look until it was lifted, the last one too; `before`: how it was first written.

    `right`: that of whoever freed it, as it was known then; `flags` of the look that freed it.
    """

    hold: Held
    looks: list[tuple[Entry, list[Picture]]]
    before: list[Entry]
    right: Right | None
    flags: list[str]


def all_holds(tool: Tool, at: datetime) -> list[Held]:
    """All holds of a tool up to a moment, the latest first, void ones among them: the same queries for any history."""
    shop = Shop.current()
    history = History(recipe_book(), shop.zone, as_of=at)
    found = holds_of(history.sequence(tool), tool.pk, system_code(tool), history.book, shop.zone)
    keys = {key for one in found for key in (one.entry.id, one.ended.id if one.ended is not None else None) if key}
    wanted = Entry.objects.filter(pk__in=keys)
    entries = {one.pk: one for one in wanted.select_related("tool", "by", "recorded_by")}
    past = list(past_holds(tool, at, {one.entry.id for one in found}, history.book))
    shown = of_entries([*entries, *(one.entry.pk for one in past)])
    held = [
        Held(entries[one.entry.id], one.reasons, entries[one.ended.id] if one.ended is not None else None,
             pictures=shown.get(one.entry.id, []))
        for one in found
    ]  # fmt: skip
    held += [Held(one.entry, (), None, one.void, one.changed, shown.get(one.entry.pk, [])) for one in past]
    return sorted(held, key=lambda one: (one.entry.at, one.entry.pk), reverse=True)


def story_of(tool: Tool, entry: Entry, at: datetime) -> Story | None:
    """What became of one hold of a tool, as it was said last while it was one; None where the entry never was."""
    holds = {one.entry.pk: one for one in all_holds(tool, at)}
    written = entry.with_earlier()
    place = next((place for place, one in enumerate(written) if one.pk in holds), None)
    if place is None:
        return None
    hold = holds[written[place].pk]
    looks = Entry.objects.filter(tool=tool, kind="inspected", at__gte=hold.entry.at, at__lte=_end(hold, at)).standing()
    looked = list(looks.exclude(pk=hold.entry.pk).select_related("tool", "by").order_by("at", "pk"))
    shown = of_entries(one.pk for one in looked)
    freed = hold.ended
    return Story(
        hold,
        [(one, shown.get(one.pk, [])) for one in looked],
        list(reversed(written[place + 1 :])),
        right_behind(freed, May.FREE, Shop.current().zone) if freed is not None and freed.kind == "inspected" else None,
        list(Flag.objects.filter(entry=freed).order_by("pk").values_list("flag", flat=True)) if freed else [],
    )


def _end(hold: Held, at: datetime) -> datetime:
    if hold.ended is not None:
        return hold.ended.at
    gone = hold.void or hold.changed
    return gone.recorded_at if gone is not None else at
