"""The shop's temperature: written down, rubbed out at once, or struck out with a reason."""

import json
from datetime import datetime, timedelta
from hashlib import sha256
from uuid import UUID

from django.db import IntegrityError, transaction
from django.utils.translation import gettext as _

from shared import clock
from shared.errors import Refused, TokenReused
from shared.units import Read
from tooling.calc.check import FUTURE
from tooling.models import Person, Temperature
from tooling.models.temperatures import LEAST_C, MOST_C
from tooling.services.deeds.undo import RUB_OUT_WITHIN
from tooling.services.measures import keep
from tooling.services.times import in_bounds


def measure(
    said: Read,
    *,
    by: Person | None,
    recorded_by: Person | None,
    at: datetime | None = None,
    ago: timedelta | None = None,
    token: UUID | None = None,
    note: str = "",
) -> Temperature:
    """Somebody read the thermometer; `at` None means now, less the time that it took to get here (`ago`).

    Order: the token (the same form again gets the first answer again); range and time; the row. Raises Refused with a
    sentence, and TokenReused where the token came with other content.
    """
    row = Temperature(by=by, recorded_by=recorded_by, token=token, note=note)
    keep(row, "value_c", said)
    row.asked = _fingerprint(row, at)
    if first := _answered(row):
        return first
    check_range(row)
    now = clock.now()
    row.at, row.recorded_at = in_bounds(at or now - (ago or timedelta())), now
    if row.at > now + FUTURE:
        raise Refused(_("That is still to come. Write down what was measured, when it has been."), "at")
    try:
        with transaction.atomic():
            row.save()
    except IntegrityError:
        # The same form came in twice at once.
        first = _answered(row)
        if first is None:
            raise
        return first
    return row


def check_range(row: Temperature, column: str = "value") -> None:
    """Refuses what no shop has been."""
    if not LEAST_C <= row.value_c <= MOST_C:
        message = _("A shop is between %(least)s and %(most)s °C (-4 and 140 °F). Look at the thermometer once more.")
        raise Refused(message % {"least": LEAST_C, "most": MOST_C}, column)


@transaction.atomic
def rub_out(one: Temperature, *, recorded_by: Person) -> Temperature:
    """One's own measurement, written less than five minutes ago, counts no more; the reason fills itself in."""
    row = _locked(one)
    if row.struck_at is None and not may_rub_out(row, recorded_by, clock.now()):
        raise Refused(_("Rubbing out ends five minutes after writing. A lead can strike it out, with a reason."))
    return _strike(row, by=row.by or recorded_by, why=_("rubbed out at once"))


@transaction.atomic
def strike(one: Temperature, *, by: Person, reason: str) -> Temperature:
    """A wrong measurement counts no more; it stays to be read, with who struck it out and why."""
    if not reason.strip():
        raise Refused(_("Say why: it stays beside what is struck through."), "reason")
    return _strike(_locked(one), by=by, why=reason.strip())


def may_rub_out(one: Temperature, person: Person, at: datetime) -> bool:
    """True for what was written from the same sign-in within the last five minutes."""
    return one.recorded_by_id == person.pk and at - one.recorded_at <= RUB_OUT_WITHIN


def _locked(one: Temperature) -> Temperature:
    return Temperature.objects.select_for_update(of=("self",)).get(pk=one.pk)


def _strike(row: Temperature, *, by: Person, why: str) -> Temperature:
    if row.struck_at is None:
        row.struck_at, row.struck_by, row.struck_why = clock.now(), by, why
        row.save(update_fields=["struck_at", "struck_by", "struck_why"])
    return row


def _fingerprint(row: Temperature, at: datetime | None) -> str:
    asked = [str(row.value_c), row.as_typed, row.by_id, at.isoformat() if at else None, row.note]
    return sha256(json.dumps(asked, sort_keys=True).encode()).hexdigest()[:16]


def _answered(row: Temperature) -> Temperature | None:
    first = Temperature.objects.filter(token=row.token).first() if row.token else None
    if first is not None and first.asked != row.asked:
        raise TokenReused(
            _("This form was sent before, with something else in it. That was written. Open the page anew to add this.")
        )
    return first
