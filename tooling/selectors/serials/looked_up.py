"""A serial number looked up in its index: what it was given to, and numbers like it. No history is read."""

from collections.abc import Iterable
from dataclasses import dataclass, field
from datetime import datetime
from difflib import get_close_matches
from operator import attrgetter

from django.db.models import Exists, OuterRef, Q, QuerySet

from tooling.calc.entry import MADE_KINDS
from tooling.models import Entry, Kind, SerialNumber, Tool
from tooling.models.serials import bare_of, key_of, split, whole_key

# The rows of one number that are looked through: each part that has it has a few.
LOOKED_THROUGH = 400
# Neighbours on either side that a mistyped number is compared with, and how many are offered.
_COMPARED, _OFFERED = 20, 5


@dataclass(slots=True)
class Named:
    """A serial number as one part has it, and what names it: the halves that close on the part, and its trim masks.

    `stands`: whether an entry that counts names it; else all of them are void or corrected.
    """

    number: str
    part: str
    tools: list[Tool] = field(default_factory=list)
    entries: list[Entry] = field(default_factory=list)
    stands: bool = False

    @property
    def makers(self) -> list[Tool]:
        """The tools that it came out of, without its trim masks."""
        return [tool for tool in self.tools if tool.kind != Kind.TRIM_MASK]

    @property
    def last(self) -> datetime:
        """When something that names it happened last."""
        return max(entry.at for entry in self.entries)


def named(text: str, part: str | None = None, known_at: datetime | None = None) -> list[Named]:
    """Everything that has the number, of one part or of all; by part, then by tool. One query.

    Entries that only void ones name come along, marked as not standing. `known_at`: by what was recorded by then.
    """
    rows = _rows(text, known_at).select_related("entry__tool")
    if part is not None:
        rows = rows.filter(part__in={key_of(part), ""})
    groups: dict[tuple[str, str], Named] = {}
    for row in rows.order_by("key", "part", "entry")[:LOOKED_THROUGH]:
        _put(groups, row, text)
    _join_nameless(groups)
    wanted = None if part is None else whole_key(part)
    found = [one for one in groups.values() if wanted is None or whole_key(one.part) == wanted]
    return sorted(found, key=lambda one: (one.part.upper(), one.tools[0].code))


def taken_back(now: Named, found: Iterable[Named]) -> list[Named]:
    """Where only void entries give the number to the same part: what it was taken for, by mistake."""
    same = (one for one in found if not one.stands and whole_key(one.part) == whole_key(now.part))
    return [one for one in same if one is not now]


def then_of(now: Named, back: Iterable[Named], then: Iterable[Named]) -> Named | None:
    """Of what had the number at an earlier moment, what this one was taken for; None where nobody knew of it yet.

    `back`: where only void entries name it now.
    """
    standing = [one for one in then if one.stands]
    for these in ({entry.pk for entry in now.entries}, {entry.pk for one in back for entry in one.entries}):
        for one in standing:
            if these & {entry.pk for entry in one.entries}:
                return one
    return None


def offers(text: str, most: int) -> list[Named]:
    """What a number stands for where it stands: for the list of tools. One query, in which nothing is folded."""
    if not whole_key(text):
        return []
    return [one for one in named(text) if one.stands and one.makers][: most + 1]


def near(text: str) -> list[str]:
    """Numbers much like one that nothing has: the same but for signs and zeros in front first, then its neighbours."""
    key, bare = key_of(text), bare_of(text)
    same = _keys(SerialNumber.objects.filter(bare=bare).order_by("key")) if bare else []
    above = _keys(SerialNumber.objects.filter(key__gt=key).order_by("key"))
    below = _keys(SerialNumber.objects.filter(key__lt=key).order_by("-key"))
    alike = get_close_matches(key, dict.fromkeys([*below, *above]), n=_OFFERED, cutoff=0.6)
    return list(dict.fromkeys(one for one in [*same, *alike] if one != key))[:_OFFERED]


def _keys(rows: QuerySet[SerialNumber]) -> list[str]:
    return list(rows.values_list("key", flat=True).distinct()[:_COMPARED])


def _rows(text: str, known_at: datetime | None) -> QuerySet[SerialNumber]:
    by_then = Q() if known_at is None else Q(recorded_at__lte=known_at)
    void = Entry.objects.filter(by_then, voids=OuterRef("entry"))
    later = Entry.objects.filter(by_then, replaces=OuterRef("entry"))
    rows = SerialNumber.objects.filter(key=key_of(text), entry__kind__in=MADE_KINDS)
    if known_at is not None:
        rows = rows.filter(entry__recorded_at__lte=known_at)
    return rows.annotate(gone=Exists(void) | Exists(later))


def _put(groups: dict[tuple[str, str], Named], row: SerialNumber, text: str) -> None:
    entry, whole = row.entry, whole_key(text)
    written = next((one for one in split(entry.serial) if whole_key(one) == whole), None)
    if written is None:  # a longer number that begins alike
        return
    # A trim mask cuts parts of many molds: the number of the part is all that it goes by.
    of = "" if entry.tool.kind == Kind.TRIM_MASK else entry.tool.matched_set or f"{entry.tool_id}"
    group = groups.setdefault((of, row.part), Named(written, entry.part))
    group.entries.append(entry)
    stands = not row.gone  # type: ignore[attr-defined]
    if stands and not group.stands:
        group.tools.clear()  # where only void entries name it nothing was made
    if stands == (group.stands or stands) and entry.tool not in group.tools:
        group.tools.append(entry.tool)
        group.tools.sort(key=attrgetter("code"))
    group.stands = group.stands or stands


def _join_nameless(groups: dict[tuple[str, str], Named]) -> None:
    """What names no part, and every trim mask, goes to where it can only belong; else it stays by itself."""
    for key in [key for key in groups if key[0] and not key[1]]:
        _join(groups, key, [other for other in groups if other[0] == key[0] and other[1]])
    for key in [key for key in groups if not key[0]]:
        to = [other for other in groups if other[0] and (other[1] == key[1] or not key[1])]
        if key[1] and len([other for other in to if groups[other].stands]) > 1:
            _share(groups, key, [groups[other] for other in to if groups[other].stands])
        else:
            _join(groups, key, to)


def _share(groups: dict[tuple[str, str], Named], key: tuple[str, str], to: list[Named]) -> None:
    """A trim mask makes no part: its cuts go to the part of its own hand, else to each that it may have cut."""
    one = groups.pop(key)
    for mask in dict.fromkeys(entry.tool for entry in one.entries):
        same_hand = [there for there in to if mask.hand and mask.hand in {tool.hand for tool in there.tools}]
        for there in same_hand or to:
            there.entries += [entry for entry in one.entries if entry.tool_id == mask.pk]
            if mask in one.tools and mask not in there.tools:
                there.tools.append(mask)


def _join(groups: dict[tuple[str, str], Named], key: tuple[str, str], to: Iterable[tuple[str, str]]) -> None:
    standing = [other for other in to if groups[other].stands] or list(to)
    if len(standing) != 1:
        return
    there, one = groups[standing[0]], groups.pop(key)
    there.entries += one.entries
    there.tools += [tool for tool in one.tools if tool not in there.tools]
    there.stands = there.stands or one.stands
