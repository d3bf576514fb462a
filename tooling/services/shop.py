"""The settings of the shop, changed. Another zone lays down anew what was worked out by days."""

from collections.abc import Mapping
from typing import Any

from django.core.exceptions import ValidationError
from django.db import transaction

from shared.errors import Refused
from tooling.models import Shop
from tooling.services.tools import relay


@transaction.atomic
def change_shop(columns: Mapping[str, Any]) -> int:
    """Changes these settings; returns how many tools were worked out anew, 0 but for another zone.

    Make the shop's row where there is none; lock it; set and check all; write; where the zone is another one, fold
    every history again and lay its spans anew. Raises Refused at the first setting that is wrong.
    """
    Shop.objects.get_or_create(pk=1, defaults={"time_zone": Shop.current().time_zone})
    shop = Shop.objects.select_for_update().get(pk=1)
    zone = shop.time_zone
    for name, value in columns.items():
        setattr(shop, name, value)
    try:
        shop.full_clean()
    except ValidationError as wrong:
        field, said = next(iter(wrong.message_dict.items()))
        raise Refused(" ".join(said), field) from wrong
    shop.save()
    return relay() if shop.time_zone != zone else 0
