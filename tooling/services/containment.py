"""Parts in doubt that somebody has looked at: a mark on each, taken back by who made it, or made anew."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from itertools import repeat
from typing import Any
from uuid import UUID, uuid5

from django.db import IntegrityError, transaction
from django.utils.translation import gettext as _

from shared import clock
from shared.errors import Refused, TokenReused
from tooling.calc.check import FUTURE, Refusal
from tooling.calc.entry import MADE_KINDS
from tooling.models import ContainmentMark, Entry, Person, Verdict
from tooling.models.serials import key_of
from tooling.services.deeds.undo import RUB_OUT_WITHIN
from tooling.services.refusals import refused

LONGEST_WORDS = 1000
# Somebody else may mark the same part at the same moment.
_ATTEMPTS = 3
# So many parts more than it names now a form may have named when it came first.
_MORE_PARTS = 100


@dataclass(frozen=True, slots=True)
class Of:
    """What it is marked for: an entry that stopped a tool (its key as it was first written), or a lot."""

    entry: int | None = None
    lot: str = ""

    @property
    def columns(self) -> dict[str, Any]:
        """As a mark has it."""
        return {"of_entry_id": self.entry, "of_lot": "" if self.entry is not None else key_of(self.lot)}


def mark(
    of: Of,
    parts: Sequence[tuple[int, str]],
    *,
    found: str,
    words: str = "",
    by: Person | None,
    recorded_by: Person | None,
    at: datetime | None = None,
    ago: timedelta | None = None,
    token: UUID | None = None,
) -> list[ContainmentMark]:
    """These parts were looked at, and all of them were good or were not.

    parts: each by the entry that made it and its serial number, "" for those of it that have none.

    Order: what is wrong with it; the same form again gets its first answer again; a mark that stands and says otherwise
    is taken back, one that says the same stays; then the rows, all or none.
    """
    now = clock.now()
    when = (at or now) - (ago or timedelta())
    _check(parts, found, words, when, now)
    said = {
        "found": found, "words": words.strip(), "by": by, "recorded_by": recorded_by, "at": when, "recorded_at": now,
    }  # fmt: skip
    for attempt in range(_ATTEMPTS):
        try:
            with transaction.atomic():
                sent = _sent(token, len(parts))
                if sent:
                    return _again(of, parts, sent, said)
                tokens: Iterable[UUID | None] = _tokens(token, len(parts)) or repeat(None)
                return [_marked(of, *part, own, said) for part, own in zip(parts, tokens, strict=False)]
        except IntegrityError:
            if attempt == _ATTEMPTS - 1:
                raise
    raise AssertionError("every attempt returns or raises")


def _check(parts: Sequence[tuple[int, str]], found: str, words: str, at: datetime, now: datetime) -> None:
    if not parts:
        raise Refused(_("Tick the parts that you looked at."), "parts")
    if found not in Verdict.values:
        raise Refused(_("Say whether they are good."), "found")
    if found == Verdict.NOT_GOOD and not words.strip():
        raise Refused(_("Say in a few words what is not good."), "words")
    if len(words) > LONGEST_WORDS:
        raise Refused(_("That is longer than %(n)d letters.") % {"n": LONGEST_WORDS}, "words")
    if at > now + FUTURE:
        raise refused(Refusal("future", "at"))
    uses = {use for use, _serial in parts}
    if Entry.objects.filter(pk__in=uses, kind__in=MADE_KINDS).count() != len(uses):
        raise Refused(_("Only what a lay-up, a pull or a cut made is marked."), "parts")


def _tokens(token: UUID | None, count: int) -> list[UUID]:
    """A token of its own for each of so many rows of one form."""
    return [uuid5(token, str(place)) for place in range(count)] if token is not None else []


def _sent(token: UUID | None, count: int) -> dict[UUID | None, ContainmentMark]:
    """What came of the same form before, also where it named more parts."""
    tokens = _tokens(token, count + _MORE_PARTS)
    return {one.token: one for one in ContainmentMark.objects.filter(token__in=tokens)} if tokens else {}


def _again(
    of: Of, parts: Sequence[tuple[int, str]], sent: dict[UUID | None, ContainmentMark], said: dict[str, Any]
) -> list[ContainmentMark]:
    """The first answer, where the form says what it said then."""
    found = list(sent.values())
    told = {(one.use_id, one.serial) for one in found}
    # What said the same already when the form came first has no row of that form.
    kept = [
        one
        for use, serial in parts
        if (use, serial) not in told
        for one in ContainmentMark.objects.filter(**of.columns, use=use, serial=serial, **_verdict(said))
    ]
    same = all((one.found, one.words) == (said["found"], said["words"]) for one in found)
    if not same or told | {(one.use_id, one.serial) for one in kept} != set(parts):
        raise TokenReused(_("This page has marked a part already, and otherwise. Open the page anew."))
    return [*found, *kept]


def _verdict(said: dict[str, Any]) -> dict[str, Any]:
    return {name: said[name] for name in ("found", "words")}


def _marked(of: Of, use: int, serial: str, own: UUID | None, said: dict[str, Any]) -> ContainmentMark:
    there = ContainmentMark.objects.filter(**of.columns, use=use, serial=serial, taken_back_at=None).first()
    if there is not None:
        if (there.found, there.words) == (said["found"], said["words"]):
            return there
        _check_turn(there, said)
        _end(there, said["recorded_by"], said["at"])
    return ContainmentMark.objects.create(**of.columns, use_id=use, serial=serial, token=own, **said)


def _check_turn(there: ContainmentMark, said: dict[str, Any]) -> None:
    """The later look stands, and what was not good becomes so with a word only."""
    part = {"part": there.serial or _("A part without number")}
    if said["at"] < there.at:
        raise Refused(_("%(part)s was looked at again after that time, and that look stands.") % part, "at")
    if there.found != said["found"] and not said["words"]:
        raise Refused(_("%(part)s was not good before: say in a few words why it is now.") % part, "words")


@transaction.atomic
def take_back(marks: Iterable[ContainmentMark], *, by: Person, wrote: int | None = None) -> None:
    """They were not looked at after all: for the same sign-in within five minutes. Twice is harmless.

    Where it had taken the place of an earlier mark, that one stands again. wrote: at a station, whose hands say so; a
    mark of other hands stays.
    """
    for one in marks:
        if one.taken_back_at is not None:
            continue
        if not may_take_back(one, by) or (by.is_station and one.by_id != wrote):
            raise Refused(_("A mark is taken back within five minutes, by who made it. After that, mark it anew."))
        _end(one, by, clock.now())
        same = {"of_entry": one.of_entry_id, "of_lot": one.of_lot, "use": one.use_id, "serial": one.serial}
        before = ContainmentMark.objects.filter(**same, taken_back_at=one.at).exclude(pk=one.pk).last()
        if before is not None:
            _end(before, None, None)


def may_take_back(one: ContainmentMark, person: Person) -> bool:
    """True for what was marked from the same sign-in within the last five minutes."""
    return one.recorded_by_id == person.pk and clock.now() - one.recorded_at <= RUB_OUT_WITHIN


def _end(one: ContainmentMark, by: Person | None, at: datetime | None) -> None:
    one.taken_back_at, one.taken_back_by = at, by
    one.save(update_fields=["taken_back_at", "taken_back_by"])
