"""Parts in doubt that somebody has looked at: a mark on each, taken back by who made it, or made anew."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Any
from uuid import UUID, uuid5

from django.db import IntegrityError, transaction
from django.utils.translation import gettext as _

from shared import clock
from shared.errors import Refused, TokenReused
from tooling.models import ContainmentMark, Person, Verdict
from tooling.models.serials import key_of
from tooling.services.deeds.undo import RUB_OUT_WITHIN

LONGEST_WORDS = 1000
# Somebody else may mark the same part at the same moment.
_ATTEMPTS = 3


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
    _check(parts, found, words)
    when = (at or clock.now()) - (ago or timedelta())
    said = {"found": found, "words": words.strip(), "by": by, "recorded_by": recorded_by, "at": when}
    for attempt in range(_ATTEMPTS):
        try:
            with transaction.atomic():
                return [_marked(of, use, serial, token, said) for use, serial in parts]
        except IntegrityError:
            if attempt == _ATTEMPTS - 1:
                raise
    raise AssertionError("every attempt returns or raises")


def _check(parts: Sequence[tuple[int, str]], found: str, words: str) -> None:
    if not parts:
        raise Refused(_("Tick the parts that you looked at."), "parts")
    if found not in Verdict.values:
        raise Refused(_("Say whether they are good."), "found")
    if found == Verdict.NOT_GOOD and not words.strip():
        raise Refused(_("Say in a few words what is not good."), "words")
    if len(words) > LONGEST_WORDS:
        raise Refused(_("That is longer than %(n)d letters.") % {"n": LONGEST_WORDS}, "words")


def _marked(of: Of, use: int, serial: str, token: UUID | None, said: dict[str, Any]) -> ContainmentMark:
    own = uuid5(token, f"{use}.{serial}") if token is not None else None
    sent = ContainmentMark.objects.filter(token=own).first() if own is not None else None
    if sent is not None:
        if (sent.found, sent.words) != (said["found"], said["words"]):
            raise TokenReused(_("This page has marked a part already, and otherwise. Open the page anew."))
        return sent
    there = ContainmentMark.objects.filter(**of.columns, use=use, serial=serial, taken_back_at=None).first()
    if there is not None:
        if (there.found, there.words) == (said["found"], said["words"]):
            return there
        _end(there, said["recorded_by"], said["at"])
    return ContainmentMark.objects.create(**of.columns, use_id=use, serial=serial, token=own, **said)


@transaction.atomic
def take_back(marks: Iterable[ContainmentMark], *, by: Person) -> None:
    """They were not looked at after all: for the same sign-in within five minutes. Twice is harmless.

    Where it had taken the place of an earlier mark, that one stands again.
    """
    for one in marks:
        if one.taken_back_at is not None:
            continue
        if not may_take_back(one, by):
            raise Refused(_("A mark is taken back within five minutes, by who made it. After that, mark it anew."))
        _end(one, by, clock.now())
        same = {"of_entry": one.of_entry_id, "of_lot": one.of_lot, "use": one.use_id, "serial": one.serial}
        before = ContainmentMark.objects.filter(**same, taken_back_at=one.at).exclude(pk=one.pk).last()
        if before is not None:
            _end(before, None, None)


def may_take_back(one: ContainmentMark, person: Person) -> bool:
    """True for what was marked from the same sign-in within the last five minutes."""
    return one.recorded_by_id == person.pk and clock.now() - one.at <= RUB_OUT_WITHIN


def _end(one: ContainmentMark, by: Person | None, at: datetime | None) -> None:
    one.taken_back_at, one.taken_back_by = at, by
    one.save(update_fields=["taken_back_at", "taken_back_by"])
