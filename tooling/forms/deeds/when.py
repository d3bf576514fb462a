"""When it happened: a chip and a time, or a day and a time, each typed as people write them."""

import datetime
import re

from django.utils.translation import gettext as _now
from django.utils.translation import gettext_lazy as _

from shared.errors import Refused
from tooling.calc.check import FUTURE
from tooling.models import Shop
from tooling.services.times import moment, once_more

NOW, EARLIER, YESTERDAY, EXACT = "now", "earlier", "yesterday", "exact"
WHEN = [(NOW, _("just now")), (EARLIER, _("earlier today")), (YESTERDAY, _("yesterday")), (EXACT, _("another day"))]
OF_THE_TIME = ("at", "at_time", "at_exact", "of_two")
FIRST, SECOND = "first", "second"
WHICH = [(FIRST, _("the first time")), (SECOND, _("the second time, an hour later"))]

# Behind a day: 14.05, 1405.
_AS_TYPED = re.compile(r"^(\d{4}-\d\d-\d\d)[ T](\d\d?)\.?(\d\d)$")
_ZONE = re.compile(r":\d\d.*(Z|[+-]\d\d(:?\d\d)?)$", re.IGNORECASE)


def exact_moment(text: str, shop: Shop, field: str = "at_exact") -> datetime.datetime:
    """The instant of a typed date and time; Refused where it cannot be meant."""
    at = moment(_AS_TYPED.sub(r"\1 \2:\3", text.strip()), shop.zone, field)
    if at is None:
        raise Refused(_now("Say the day and the time."), field)
    return at


def says_its_zone(text: str) -> bool:
    """Whether a typed time says how far it is from UTC, so that there is one such instant only."""
    return _ZONE.search(text.strip()) is not None


def one_of_two(
    at: datetime.datetime, zone: datetime.tzinfo, which: str | None
) -> tuple[bool, datetime.datetime | None]:
    """Whether the clocks showed this time twice that night, and the instant that is meant; None: nobody said which."""
    later = once_more(at, zone)
    if later is None:
        return False, at
    return True, {FIRST: at, SECOND: later}.get(which or "")


def not_ahead(at: datetime.datetime, now: datetime.datetime, field: str) -> datetime.datetime:
    """The ledger refuses it as well; here it is said beside the time that was typed."""
    if at > now + FUTURE:
        raise Refused(_now("That is still to come. Write down what has happened, when it has."), field)
    return at
