"""What a hand is likely to say of a cut against a trim mask, so that it is tapped and not typed."""

from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass, field
from datetime import datetime
from decimal import Decimal
from typing import Any
from uuid import UUID

from tooling.calc.entry import part_key
from tooling.models import Entry, PartRevision, SerialNumber, Tool
from tooling.models.codes import tidy_code
from tooling.models.fields import plain
from tooling.models.serials import LONGEST_KEY, key_of, split
from trimfixtures.calc.spoilt import is_lost, is_spoilt
from trimfixtures.models import Cutter, CutterKind, CutterState, Feature, Mask
from trimfixtures.selectors.cuts import cuts_of

# How many pulls and cuts are looked through, and how many serial numbers and times of them are offered.
_LOOKED, MOST = 30, 6


@dataclass(frozen=True, slots=True)
class Offered:
    """`serials`: of the part, pulled and not trimmed with it yet, the newest first. `cutters`: the codes of its cuts,
    and `gone` those of them that are.

    `minutes`: how long a part took lately. `revisions`: of which the serial numbers are, where their lay-up says so.
    `again`: the cut that names the serial number which was chosen before; that one stands last. `numbered`: parts of it
    have serial numbers.
    """

    part: str = ""
    serials: tuple[str, ...] = ()
    cutters: tuple[str, ...] = ()
    gone: tuple[str, ...] = ()
    minutes: tuple[Decimal, ...] = ()
    revisions: Mapping[str, PartRevision] = field(default_factory=dict)
    again: Entry | None = None
    numbered: bool = False

    @property
    def likely(self) -> str:
        """The serial number that is meant where nobody says another; "" where one was chosen that is done already."""
        return self.serials[0] if self.serials and self.again is None else ""


def offered(tool: Tool, at: datetime, *, part: str = "", serial: str = "") -> Offered:
    """The newest pulled part of its tool sets that is not trimmed with it yet, its cutters, and how long it took.

    part, serial: what was chosen before, where the tool sets know the part: it comes first. How many queries it takes
    does not grow with the history.
    """
    in_sets = list(PartRevision.objects.filter(tool_set__tool=tool).select_related("part").newest_first())
    used = Entry.objects.filter(tool=tool, kind="used", at__lte=at).standing().order_by("-at", "-pk")[:_LOOKED]
    lately = tuple(dict.fromkeys(_each(one) for one in used if one.payload.get("minutes")))[:MOST]
    parts = {part_key(one.part.number): one.part.number for one in in_sets}
    chosen = parts.get(part_key(part), "")
    part, serials = _waiting(tool, [chosen] if chosen else parts.values(), at)
    part = part or chosen or next((one.part for one in used if one.part), "") or next(iter(parts.values()), "")
    again, number = None, next(iter(split(serial)), "")[:LONGEST_KEY] if chosen else ""
    if number:
        serials, again = _with_chosen(tool, part, serials, number)
    numbered = bool(serials) or any(one.serial for one in used if part_key(one.part) == part_key(part))
    wanted = _cutters(tool)
    return Offered(
        part=part,
        serials=serials,
        cutters=tuple(wanted),
        gone=tuple(code for code, state in wanted.items() if state == CutterState.GONE),
        minutes=lately,
        revisions=_revisions(part, serials),
        again=again,
        numbered=numbered,
    )


def _cutters(tool: Tool) -> dict[str, str]:
    """The codes of the cutters that its cuts want, in cutting order, each with its state."""
    wanted = Feature.objects.filter(mask__tool=tool, cutter__kind=CutterKind.CUTTER).in_order()
    return dict(wanted.values_list("cutter__code", "cutter__state"))


def _with_chosen(tool: Tool, part: str, serials: tuple[str, ...], serial: str) -> tuple[tuple[str, ...], Entry | None]:
    """The serial number that was chosen before first; last, with its cut, where it was trimmed already."""
    number = next((one for one in serials if key_of(one) == key_of(serial)), serial)
    rest = tuple(one for one in serials if one != number)
    before = trimmed_before(tool, part, [number]) if len(rest) == len(serials) else None
    return ((*rest, number), before[1]) if before is not None else ((number, *rest), None)


def _waiting(tool: Tool, numbers: Collection[str], at: datetime) -> tuple[str, tuple[str, ...]]:
    """The part whose serial number was pulled last and not trimmed with the tool, and all such numbers of that part."""
    if not numbers:
        return "", ()
    pulls = Entry.objects.naming(numbers).filter(kind="pull", serial__gt="", at__lte=at).exclude(came_off="lost")
    if tool.hand:
        pulls = pulls.filter(tool__hand__in=("", tool.hand))
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
    """Those of the serial numbers, each behind its part, that a standing cut of the tool names and did not spoil."""
    used = Entry.objects.filter(tool=tool, kind="used").standing()
    found = SerialNumber.objects.filter(key__in=keys, entry__in=used)
    told = found.values_list("part", "key", "entry__serial", "entry__payload")
    return {(part, key) for part, key, serial, said in told if is_lost(said) or not _spoilt(key, serial, said)}


def _spoilt(key: str, serial: str, said: Mapping[str, Any]) -> bool:
    """Whether this cut spoiled it: of several how the last went is what is said."""
    return is_spoilt(said) and key_of(split(serial)[-1]) == key


def _revisions(part: str, serials: Iterable[str]) -> dict[str, PartRevision]:
    """Of which revision each serial number was laid up."""
    keys = {key_of(number): number for number in serials}
    if not keys:
        return {}
    lay_ups = Entry.objects.filter(kind="lay_up").standing()
    found = SerialNumber.objects.filter(key__in=keys, part=key_of(part), entry__in=lay_ups).select_related("entry")
    names = {one.key: one.entry.payload.get("revision", "") for one in found.order_by("entry__at", "entry")}
    known = {one.revision: one for one in PartRevision.objects.filter(part__number__iexact=part).select_related("part")}
    return {keys[key]: known[name] for key, name in names.items() if name in known}


def _each(cut: Entry) -> Decimal:
    """How long one part of the cut took, to a tenth of a minute."""
    return plain(round(Decimal(cut.payload["minutes"]) / (cut.count or 1), 1))


def trimmed_before(
    tool: Tool, part: str, numbers: Iterable[str], token: UUID | None = None
) -> tuple[str, Entry] | None:
    """The first of these serial numbers that was trimmed with the tool before, and the entry that says so.

    token: what the same form wrote when it was sent the first time is not meant.
    """
    keys = {key_of(number): number for number in numbers}
    used = Entry.objects.filter(tool=tool, kind="used").standing()
    used = used.exclude(token=token) if token is not None else used
    found = SerialNumber.objects.filter(key__in=keys, part__in=("", key_of(part)), entry__in=used)
    rows = found.select_related("entry").order_by("-entry__at", "-entry")
    first = next((one for one in rows if not _spoilt(one.key, one.entry.serial, one.entry.payload)), None)
    return (keys[first.key], first.entry) if first is not None else None


def never_made(part: str, numbers: Iterable[str]) -> str:
    """The first of these serial numbers that no lay-up and no pull of the part names; "" where none of it has one."""
    made = Entry.objects.filter(kind__in=("lay_up", "pull")).standing()
    of_it = SerialNumber.objects.filter(entry__in=made)
    keys = {key_of(number): number for number in numbers}
    if part:
        of_it = of_it.filter(part__in=("", key_of(part)))
    known = set(of_it.filter(key__in=keys).values_list("key", flat=True))
    left = [number for key, number in keys.items() if key not in known]
    return left[0] if left and (known or of_it.exists()) else ""


def not_in_library(codes: Iterable[str]) -> list[str]:
    """Those of the codes that no cutter has; none of them where the shop keeps no library."""
    known = set(Cutter.objects.filter(kind=CutterKind.CUTTER).values_list("code", flat=True))
    return [code for code in codes if known and tidy_code(code) not in known]


def metres(tool: Tool, cutters: Collection[str], count: int) -> Decimal | None:
    """How far so many parts are cut in all, by the cuts that these cutters make; None where no length is known.

    A cut without a cutter of the library is always one of them; where nobody said what was taken all are.
    """
    mask = Mask.objects.filter(tool=tool).first()
    taken = set(cutters)
    found = [
        one.metres
        for one in (cuts_of([mask], ruled=False)[mask.pk] if mask is not None else ())
        if one.metres is not None and (not taken or one.feature.cutter is None or one.feature.cutter.code in taken)
    ]
    return plain(round(Decimal(str(sum(found))) * count, 3)) if found else None
