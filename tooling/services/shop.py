"""The settings of the shop, changed. Another zone lays down anew what was worked out by days."""

from collections.abc import Mapping
from typing import Any

from django.core.exceptions import ValidationError
from django.db import transaction
from django.urls import reverse
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from shared import clock
from shared.errors import Refused
from tooling.models import Entry, Shop
from tooling.services.jobs import Outcome, Progress, registry
from tooling.services.tools import relay
from tooling.words.shop import worked_out_anew

# Entries: to fold more takes longer than a page may.
AT_ONCE = 50_000
JOB = "shop"


def make_known() -> None:
    """The job that changes the settings of a large shop."""
    registry.register(JOB, _as_job, title=gettext_lazy("Settings of the shop"), goes_on=_page)


def takes_long(columns: Mapping[str, Any]) -> bool:
    """Whether a change is asked for as a job: another zone in a large shop."""
    return "time_zone" in columns and Entry.objects.count() > AT_ONCE


@transaction.atomic
def change_shop(columns: Mapping[str, Any]) -> int:
    """Changes these settings; returns how many tools were worked out anew, 0 but for another zone.

    Make the shop's row where there is none; lock it; set and check all; write; where the zone is another one, fold
    every history again and lay its spans anew; without formal records no tool waits to be accepted any more. Raises
    Refused at the first setting that is wrong.
    """
    Shop.objects.get_or_create(pk=1, defaults={"time_zone": Shop.current().time_zone})
    shop = Shop.objects.select_for_update().get(pk=1)
    zone, formal = shop.time_zone, shop.formal_records
    for name, value in columns.items():
        setattr(shop, name, value)
    if shop.formal_records != formal:
        shop.formal_since = clock.now() if shop.formal_records else None
    try:
        shop.full_clean()
    except ValidationError as wrong:
        field, said = next(iter(wrong.message_dict.items()))
        raise Refused(" ".join(said), field) from wrong
    shop.save()
    if shop.time_zone != zone:
        return relay()
    if formal and not shop.formal_records:
        # Not those alone that wait now: one may be brought back at this moment, by who read that they are on.
        relay(list(Entry.objects.filter(kind="retired").order_by().values_list("tool", flat=True).distinct()))
    return 0


def _as_job(given: dict[str, Any], progress: Progress) -> Outcome:
    progress.no_way_back(_("Working every tool out anew"))
    return Outcome(worked_out_anew(change_shop(given)))


def _page(given: dict[str, Any]) -> str:
    return reverse("shop_settings")
