"""Every entry that tells of a serial number, as lines of a history: what stands, what it replaced, what is void."""

from collections.abc import Iterable

from tooling.calc.entry import Entry as Fact
from tooling.models import Entry, Flag, Tool
from tooling.models.serials import split, whole_key
from tooling.selectors.lead_notes import seen_of
from tooling.selectors.pictures import of_entries
from tooling.selectors.serials.looked_up import Named
from tooling.selectors.serials.story import Told
from tooling.selectors.timeline import Line


def lines_of(told: Told, others: Iterable[Named] = ()) -> list[Line]:
    """What names the number, and the rest of its makings, newest first. `others`: where only void entries name it.

    The same queries however many there are.
    """
    begun = {entry.pk for named in (told.now.named, *others) for entry in named.entries}
    for story in (told.now, told.then):
        for one in story.made if story is not None else ():
            begun |= {part[2].id for part in (one.making.lay_up, one.making.done, one.making.end) if part is not None}
            logs = (told.history.log(tool.pk) for tool in one.inserts)
            begun |= {fact.id for log in logs for fact in log if _stuck(fact, told.now.named)}
    links = _Links(told.facts())
    heads = {links.head(pk) for pk in begun}
    rows = Entry.objects.select_related("tool", "by", "recorded_by").in_bulk(
        {pk for head in heads for pk in (*links.chain(head), links.void.get(head)) if pk is not None}
    )
    shown = sorted((rows[pk] for pk in heads), key=lambda one: (one.at, one.pk), reverse=True)
    flags, pictures, seen = _flags(shown), of_entries(heads), seen_of(shown)
    return [
        Line(
            one,
            tuple(rows[pk] for pk in links.chain(one.pk)[1:]),
            rows.get(links.void.get(one.pk, 0)),
            flags.get(one.pk, ()),
            tuple(pictures.get(one.pk, ())),
            seen.get(one.pk),
        )
        for one in shown
    ]


def _stuck(fact: Fact, named: Named) -> bool:
    """Whether an insert stayed in that very part."""
    return fact.kind == "removed" and whole_key(named.number) in map(whole_key, split(fact.serial))


class _Links:
    """Which entries stand for which, and which are void."""

    def __init__(self, facts: Iterable[Fact]) -> None:
        self.before: dict[int, int] = {}
        self.after: dict[int, int] = {}
        self.void: dict[int, int] = {}
        for one in facts:
            if one.voids is not None:
                self.void[one.voids] = one.id
            elif one.replaces is not None:
                self.before[one.id], self.after[one.replaces] = one.replaces, one.id

    def head(self, pk: int) -> int:
        """What stands in its place at last."""
        while pk in self.after:
            pk = self.after[pk]
        return pk

    def chain(self, pk: int) -> list[int]:
        """It and those that it stands for, newest first."""
        found = [pk]
        while found[-1] in self.before:
            found.append(self.before[found[-1]])
        return found


def _flags(shown: list[Entry]) -> dict[int, tuple[tuple[Tool | None, str], ...]]:
    found: dict[int, tuple[tuple[Tool | None, str], ...]] = {}
    for flag in Flag.objects.filter(entry__in=shown).select_related("surface").order_by("surface__code", "id"):
        found[flag.entry_id] = (*found.get(flag.entry_id, ()), (flag.surface, flag.flag))
    return found
