"""What is wrong with this shop, as far as settings go."""

from collections.abc import Sequence
from typing import Any

from django.conf import settings
from django.core.checks import CheckMessage, Tags, Warning, register
from django.db import DatabaseError

from shared import environment
from tooling.models import Shop


@register(Tags.database)
def zone_is_the_shops(app_configs: Any, databases: Sequence[str] | None = None, **kwargs: Any) -> list[CheckMessage]:
    """tooling.W001: TIME_ZONE says another zone than the one that was kept with the shop."""
    if not databases or not environment.given("TIME_ZONE"):
        return []
    try:
        kept = Shop.current().time_zone
    except DatabaseError:  # not migrated yet, or it does not answer: that has a check of its own
        return []
    if kept == settings.TIME_ZONE:
        return []
    return [
        Warning(
            f"TIME_ZONE is {settings.TIME_ZONE}, but this shop keeps its times in {kept}; the shop's zone counts.",
            hint="Leave TIME_ZONE out, or set it to the shop's zone.",
            id="tooling.W001",
        )
    ]
