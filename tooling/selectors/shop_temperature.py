"""How warm the shop is."""

from datetime import datetime, time, tzinfo

from tooling.models import Shop, Temperature


def shop_temperature(at: datetime, zone: tzinfo | None = None) -> Temperature | None:
    """The latest measurement of the shop's day of `at`, at or before it; None: not measured yet."""
    zone = zone or Shop.current().zone
    found = Temperature.objects.standing().filter(at__gte=midnight(at, zone), at__lte=at).newest_first()
    return found.select_related("by").first()


def midnight(at: datetime, zone: tzinfo) -> datetime:
    """When the day of a moment began in the shop."""
    return datetime.combine(at.astimezone(zone).date(), time(), zone)
