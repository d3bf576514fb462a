"""The way into a shop that nobody leads yet.

The address carries a signed word instead of a stored one: whoever can read the program's key already owns the shop.
It opens nothing once there is a lead, and lasts a day.
"""

import datetime

from django.core import signing
from django.db import transaction
from django.utils.translation import gettext as _

from shared.errors import Refused
from tooling.models import Person, Role, Shop, Tool
from tooling.services import people

LASTS = datetime.timedelta(days=1)
_signer = signing.TimestampSigner(salt="tooling.first_lead")


def is_wanted() -> bool:
    """Whether nobody leads the shop."""
    return not Person.objects.filter(role=Role.LEAD).exists()


def new_token() -> str:
    """What the address carries."""
    return _signer.sign("lead")


def opens(token: str) -> bool:
    """Whether the address may still be used."""
    return is_ours(token, LASTS) and is_wanted()


def is_ours(token: str, lasts: datetime.timedelta | None = None) -> bool:
    """Whether this shop gave the address out, within `lasts` if it is said."""
    try:
        _signer.unsign(token, max_age=lasts)
    except signing.BadSignature:
        return False
    return True


@transaction.atomic
def become(*, name: str, password: str, shop_name: str, at: datetime.datetime, time_zone: str = "") -> Person:
    """Name the shop and set its zone, then make its first lead; of two at once the second is refused.

    `time_zone`: "" leaves it; a shop that has tools keeps its own, whose days their states were worked out by.

    A person of that name who was only named so far, by an import, becomes the lead; a station and who has left do not.
    """
    shop, _made = Shop.objects.get_or_create(pk=1, defaults={"time_zone": Shop.current().time_zone})
    Shop.objects.select_for_update().get(pk=shop.pk)
    if not is_wanted():
        raise Refused(_("Somebody became the shop lead just now. Sign in, or ask them for a name."))
    shop.name = shop_name
    if time_zone and not Tool.objects.exists():
        shop.time_zone = time_zone
    shop.full_clean()
    shop.save()
    person = Person.objects.named(name)
    if person.role == Role.STATION:
        raise Refused(_("%(name)s is a station. Take another name.") % {"name": person.name}, "name")
    if not person.is_active:
        message = _("%(name)s is switched off. Take another name; as lead you can switch %(name)s on.")
        raise Refused(message % {"name": person.name}, "name")
    return people.let_in(person, role=Role.LEAD, password=password, at=at)
