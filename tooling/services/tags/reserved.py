"""The address that the tags point to is a number, and a lead says that the router keeps it for this machine."""

from datetime import datetime

from django.db import transaction
from django.utils.translation import gettext as _

from shared.errors import Refused
from tooling.models import Person, Shop


@transaction.atomic
def say_reserved(address: str, *, shown: str, by: Person, at: datetime) -> None:
    """Keeps it with the shop, for exactly that address. `shown`: the one that stood on the page. Twice is harmless."""
    if shown != address:
        raise Refused(_("The address has changed meanwhile: it is %(address)s now.") % {"address": address})
    shop = Shop.objects.select_for_update().filter(pk=1).first() or Shop.current()
    if shop.tag_address == address:
        return
    shop.tag_address, shop.tag_address_at, shop.tag_address_by = address, at, by.name
    shop.save()
