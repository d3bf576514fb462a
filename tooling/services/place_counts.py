"""A place is counted: what is met there is seen, what is not is missing, and a tag that nobody knows is kept.

One function a deed. What is seen or missed is an entry `moved` in the history of its tool that names the count; whoever
rubs that entry out has taken the line out of the count.
"""

from collections.abc import Collection
from datetime import datetime
from typing import Unpack
from uuid import UUID

from django.db import IntegrityError, transaction
from django.utils.translation import gettext as _

from shared import clock
from shared.errors import Refused
from tooling.models import CountMark, Entry, Found, Person, Place, PlaceCount, Tool
from tooling.selectors import scans
from tooling.selectors.place_counts import as_it_stands, last_met, lies_within, open_at, open_below
from tooling.selectors.place_tree import below
from tooling.services.deeds import places as deeds
from tooling.services.deeds.base import Said
from tooling.services.deeds.undo import RUB_OUT_WITHIN, sent_before, void
from tooling.services.families import lock_all
from tooling.services.older_codes import find_by

LONGEST_TEXT = 300
# The number of a new count is the next one; somebody else may take it at the same moment.
_ATTEMPTS = 3
# So many tools are missed in one go at the end of a count.
_AT_ONCE = 20


def begin(place: Place, *, by: Person | None, at: datetime | None = None, token: UUID | None = None) -> PlaceCount:
    """Begins to count a place with all that lies within it; where it is being counted already, that goes on.

    Order: the token (the same form again gets its count again); the count that is open there, or above it; the row.
    Refused while a place within it is being counted.
    """
    for attempt in range(_ATTEMPTS):
        try:
            with transaction.atomic():
                return _begun(place, by, at or clock.now(), token)
        except IntegrityError:
            if attempt == _ATTEMPTS - 1:
                raise
    raise AssertionError("every attempt returns or raises")


def _begun(place: Place, by: Person | None, at: datetime, token: UUID | None) -> PlaceCount:
    _lock_places()
    sent = PlaceCount.objects.filter(token=token).first() if token is not None else None
    there = sent or open_at(place)
    if there is not None:
        return there
    inner = open_below(place)
    if inner is not None:
        raise Refused(
            _("%(inner)s, which is part of it, is being counted. End that count first.") % {"inner": inner.place.name}
        )
    last = PlaceCount.objects.order_by("-number").values_list("number", flat=True).first() or 0
    return PlaceCount.objects.create(number=last + 1, place=place, begun_at=at, begun_by=by, token=token)


@transaction.atomic
def see(count: PlaceCount, tool: Tool, *, place: Place, **said: Unpack[Said]) -> Entry:
    """A tool was met at a place that is being counted.

    Order: the count's lock; the same form again gets its first answer again; a tool that was met at that place already
    in this count stays as it is; the move, with its line of the count. Refused elsewhere, and once the count is ended.
    """
    row = _locked(count)
    if not sent_before(said.get("token")):
        _check_open(row)
        if not lies_within(place.pk, row.place_id):
            raise Refused(
                _("%(place)s is no part of %(counted)s.") % {"place": place.name, "counted": row.place.name}, "place"
            )
        met = last_met(row, tool)
        if met is not None and met.payload.get("place") == place.pk:
            return met
    return _marked(row, Found.SEEN, deeds.move(tool, place=place, counted=row.number, **said))


@transaction.atomic
def miss(count: PlaceCount, tool: Tool, **said: Unpack[Said]) -> Entry:
    """Somebody looked, and the tool is not there. Refused where it was met, or is known not to be missing."""
    row = _locked(count)
    if not sent_before(said.get("token")):
        _check_open(row)
        page = as_it_stands(row)
        if tool.pk not in page.not_met_keys:
            raise Refused(_("%(tool)s is not looked for any more in this count.") % {"tool": tool.code}, "tool")
    return _missed(row, tool, below([row.place_id]), **said)


@transaction.atomic
def met_unknown(count: PlaceCount, text: str, *, by: Person | None, at: datetime | None = None) -> CountMark:
    """A tag that is none of ours; the same again is the same line, looked at anew where it was put aside."""
    row = _locked(count)
    _check_open(row)
    text = " ".join(text.split())[:LONGEST_TEXT]
    mark = row.marks.filter(found=Found.UNKNOWN, text__iexact=text).first()
    if mark is None:
        return row.marks.create(found=Found.UNKNOWN, text=text, at=at or clock.now(), by=by)
    return put_aside(mark, aside=False)


@transaction.atomic
def forget_unknown(mark: CountMark, *, by: Person) -> None:
    """What was typed wrong a moment ago is taken out again. Nothing happens where it is out already."""
    row = _locked(mark.count)
    _check_open(row)
    there = row.marks.filter(pk=mark.pk, found=Found.UNKNOWN).first()
    if there is None:
        return
    if not may_forget(there, by):
        raise Refused(_("Rubbing out ends five minutes after writing. Put it aside: it is nothing of ours."))
    there.delete()


def may_forget(mark: CountMark, person: Person) -> bool:
    """True for who read the tag within the last five minutes."""
    return clock.now() - mark.at <= RUB_OUT_WITHIN and mark.by_id == person.pk


@transaction.atomic
def put_aside(mark: CountMark, *, aside: bool = True) -> CountMark:
    """It is nothing of ours; or it is looked at once more after all."""
    CountMark.objects.filter(pk=mark.pk, found=Found.UNKNOWN).update(settled=aside)
    mark.refresh_from_db()
    return mark


@transaction.atomic
def settle_unknown(
    mark: CountMark, *, tool: Tool, place: Place | None, says: Person, **said: Unpack[Said]
) -> CountMark:
    """What stands on the tag is a tool after all: from now on the tool is found by it, as by an older code.

    place: where it was met; None: it is only called so. says: who says that it is this one. Refused where another tool
    has that code.
    """
    row = _locked(mark.count)
    find_by(tool, scans.code_on(mark.text), by=says, at=clock.now())
    if place is not None and row.ended_at is None:
        see(row, tool, place=place, **said)
    return put_aside(mark)


def end(count: PlaceCount, *, by: Person | None, recorded_by: Person | None, at: datetime | None = None) -> list[Entry]:
    """The count is done: what was not met is written down as missing. Twice is harmless. Returns what was written.

    A few tools at once, so that nobody else who writes waits for a whole rack; with the last of them it is ended.
    """
    written: list[Entry] = []
    at = max(at or clock.now(), count.begun_at)
    while not _ended_with(count, written, at, {"by": by, "recorded_by": recorded_by, "at": at}):
        pass
    return written


@transaction.atomic
def _ended_with(count: PlaceCount, written: list[Entry], at: datetime, said: Said) -> bool:
    """Whether it is ended now. Order: the count's lock; the locks of the next few; an entry each; the row."""
    row = _locked(count)
    if row.ended_at is None:
        page = as_it_stands(row)
        missing = [line.tool for line in page.to_miss[:_AT_ONCE]]
        lock_all(missing)
        here = page.tree.below(row.place_id)
        written += [_missed(row, tool, here, **said) for tool in missing]
        if len(page.to_miss) <= _AT_ONCE:
            _close(row, said["by"], at)
    return row.ended_at is not None


@transaction.atomic
def give_up(count: PlaceCount, *, by: Person | None, at: datetime | None = None) -> PlaceCount:
    """The count is broken off for good: what was seen stays seen, and nothing is said to be missing."""
    row = _locked(count)
    if row.ended_at is None:
        row.given_up = True
        _close(row, by, max(at or clock.now(), row.begun_at))
    return row


@transaction.atomic
def take_up_again(
    count: PlaceCount, *, by: Person | None, recorded_by: Person | None, at: datetime | None = None
) -> PlaceCount:
    """A count that was given up goes on; one that was ended a moment ago as well, and what it missed is void.

    Refused while that place, one above it or one within it is being counted anew.
    """
    _lock_places()
    row = _locked(count)
    if row.ended_at is None:
        return row
    if not row.given_up and (at or clock.now()) - row.ended_at > RUB_OUT_WITHIN:
        raise Refused(_("A count that is done is taken up again within five minutes. Begin a new one."))
    other = open_at(row.place) or open_below(row.place)
    if other is not None:
        raise Refused(_("%(place)s is being counted anew. Go on there.") % {"place": other.place.name})
    if not row.given_up:
        _take_back(row, row.ended_at, by, recorded_by)
    row.ended_at = row.ended_by = None
    row.given_up = False
    row.save(update_fields=["ended_at", "ended_by", "given_up"])
    return row


def _take_back(row: PlaceCount, at: datetime, by: Person | None, recorded_by: Person | None) -> None:
    """Voids what the end of the count wrote: what it missed at that very moment."""
    marks = row.marks.standing().select_related("entry__tool")
    entries = [mark.entry for mark in marks.filter(found=Found.MISSING, at=at) if mark.entry]
    lock_all([entry.tool for entry in entries])
    for entry in entries:
        void(entry, reason=_("the count goes on"), by=by, recorded_by=recorded_by)


def _lock_places() -> None:
    """All places but their keys, so that none is counted twice at once, by itself and as a part of another one."""
    list(Place.objects.select_for_update(of=("self",), no_key=True).order_by("pk").values_list("pk"))


def _locked(count: PlaceCount) -> PlaceCount:
    rows = PlaceCount.objects.select_for_update(of=("self",), no_key=True)
    return rows.select_related("place").get(pk=count.pk)


def _check_open(row: PlaceCount) -> None:
    if row.ended_at is not None:
        raise Refused(_("This count is ended. Take it up again, or begin a new one."))


def _marked(row: PlaceCount, found: Found, entry: Entry) -> Entry:
    facts = {"count": row, "found": found, "tool": entry.tool, "at": entry.at, "by": entry.by}
    CountMark.objects.get_or_create(entry=entry, defaults=facts)
    return entry


def _missed(row: PlaceCount, tool: Tool, within: Collection[int], **said: Unpack[Said]) -> Entry:
    return _marked(row, Found.MISSING, deeds.miss(tool, counted=row.number, within=within, **said))


def _close(row: PlaceCount, by: Person | None, at: datetime) -> None:
    row.ended_at, row.ended_by = at, by
    row.save(update_fields=["ended_at", "ended_by", "given_up"])
