"""The hours of the shop as the rules of time read them."""

from tooling.calc.hours import ShopHours
from tooling.models import Shop
from tooling.models.shop_hours import days_of, to_days


def shop_hours(shop: Shop) -> ShopHours:
    """Those that are written down; none where nobody has. ValueError for hours that cannot be."""
    return ShopHours(shop.zone, dict(enumerate(to_days(shop.week))), days_of(shop.closed_days))
