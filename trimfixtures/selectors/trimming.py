"""What a hand is likely to say of a cut against a trim mask, so that it is tapped and not typed."""

from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass, field
from datetime import datetime
from decimal import Decimal
from uuid import UUID

from django.db.models.functions import Upper

from tooling.calc.entry import part_key
from tooling.models import Entry, PartRevision, SerialNumber, Tool
from tooling.models.fields import plain
from tooling.models.serials import key_of, split
from trimfixtures.models import CutterKind, Feature, Mask
from trimfixtures.selectors.cuts import cuts

# How many pulls and cuts are looked through, and how many serial numbers and times of them are offered.
_LOOKED, MOST = 30, 6


@dataclass(frozen=True, slots=True)
class Offered:
    """`serials`: of the part, pulled and not trimmed with it yet, the newest first. `cutters`: the codes of its cuts.

    `minutes`: how long a part took lately. `revisions`: of which the serial numbers are, where their lay-up says so.
    """

    part: str = ""
    serials: tuple[str, ...] = ()
    cutters: tuple[str, ...] = ()
    minutes: tuple[Decimal, ...] = ()
    revisions: Mapping[str, PartRevision] = field(default_factory=dict)


def offered(tool: Tool, at: datetime, *, part: str = "", serial: str = "") -> Offered:
    """The newest pulled part of its tool sets that is not trimmed with it yet, its cutters, and how long it took.

    part, serial: what was chosen before, where the tool sets know the part: it comes first. How many queries it takes
    does not grow with the history.
    """
    chosen = part_key(part), key_of(serial)
    in_sets = list(PartRevision.objects.filter(tool_set__tool=tool).select_related("part").newest_first())
    used = Entry.objects.filter(tool=tool, kind="used", at__lte=at).standing().order_by("-at")[:_LOOKED]
    lately = tuple(dict.fromkeys(_each(one) for one in used if one.payload.get("minutes")))[:MOST]
    parts = {part_key(one.part.number) for one in in_sets}
    part, serials = _waiting(tool, parts & {chosen[0]} or parts, at)
    serials = tuple(sorted(serials, key=lambda one: (part_key(part), key_of(one)) != chosen))
    part = part or next((one.part for one in used if one.part), "") or next((one.part.number for one in in_sets), "")
    return Offered(part, serials, cutters_of(tool), lately, _revisions(part, serials))


def cutters_of(tool: Tool) -> tuple[str, ...]:
    """The codes of the cutters that its cuts want, in cutting order."""
    wanted = Feature.objects.filter(mask__tool=tool, cutter__kind=CutterKind.CUTTER).in_order()
    return tuple(dict.fromkeys(wanted.values_list("cutter__code", flat=True)))


def _waiting(tool: Tool, parts: set[str], at: datetime) -> tuple[str, tuple[str, ...]]:
    """The part whose serial number was pulled last and not trimmed with the tool, and all such numbers of that part."""
    if not parts:
        return "", ()
    pulls = Entry.objects.annotate(key=Upper("part")).filter(key__in=parts, part__gt="", at__lte=at)
    pulls = pulls.filter(kind="pull", serial__gt="").exclude(came_off="lost")
    named = [
        (one.part, number) for one in pulls.standing().order_by("-at", "-pk")[:_LOOKED] for number in split(one.serial)
    ]
    done = _trimmed(tool, {key_of(number) for _part, number in named})
    left = [
        (part, number) for part, number in named if not done & {(key_of(part), key_of(number)), ("", key_of(number))}
    ]
    if not left:
        return "", ()
    of = left[0][0]
    mine = dict.fromkeys(number for part, number in left if part_key(part) == part_key(of))
    return of, tuple(mine)[:MOST]


def _trimmed(tool: Tool, keys: set[str]) -> set[tuple[str, str]]:
    """Those of the serial numbers, each behind its part, that a standing cut of the tool names."""
    used = Entry.objects.filter(tool=tool, kind="used").standing()
    found = SerialNumber.objects.filter(key__in=keys, entry__in=used)
    return set(found.values_list("part", "key"))


def _revisions(part: str, serials: Iterable[str]) -> dict[str, PartRevision]:
    """Of which revision each serial number was laid up."""
    keys = {key_of(number): number for number in serials}
    if not keys:
        return {}
    lay_ups = Entry.objects.filter(kind="lay_up").standing()
    found = SerialNumber.objects.filter(key__in=keys, part=key_of(part), entry__in=lay_ups).select_related("entry")
    names = {one.key: one.entry.payload.get("revision", "") for one in found.order_by("entry__at")}
    known = {one.revision: one for one in PartRevision.objects.filter(part__number__iexact=part).select_related("part")}
    return {keys[key]: known[name] for key, name in names.items() if name in known}


def _each(cut: Entry) -> Decimal:
    """How long one part of the cut took, to a tenth of a minute."""
    return plain(round(Decimal(cut.payload["minutes"]) / (cut.count or 1), 1))


def trimmed_before(tool: Tool, part: str, numbers: Iterable[str], token: UUID) -> tuple[str, Entry] | None:
    """The first of these serial numbers that was trimmed with the tool before, and the entry that says so.

    What the same form wrote when it was sent the first time is not meant.
    """
    keys = {key_of(number): number for number in numbers}
    used = Entry.objects.filter(tool=tool, kind="used").exclude(token=token).standing()
    found = SerialNumber.objects.filter(key__in=keys, part__in=("", key_of(part)), entry__in=used)
    first = found.select_related("entry").order_by("-entry__at").first()
    return (keys[first.key], first.entry) if first is not None else None


def metres(tool: Tool, cutters: Collection[str], count: int) -> Decimal | None:
    """How far so many parts are cut in all, by the cuts that these cutters make; None where no length is known.

    A cut without a cutter of the library is always one of them; where nobody said what was taken all are.
    """
    mask = Mask.objects.filter(tool=tool).first()
    taken = set(cutters)
    found = [
        one.metres
        for one in (cuts(mask) if mask is not None else ())
        if one.metres is not None and (not taken or one.feature.cutter is None or one.feature.cutter.code in taken)
    ]
    return plain(round(Decimal(str(sum(found))) * count, 3)) if found else None
