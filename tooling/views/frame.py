"""What every page is given besides its own."""

from typing import Any

from shared import clock
from tooling.models import Shop


def framed() -> dict[str, Any]:
    """The shop, the zone that its times are said in, and now."""
    shop = Shop.current()
    return {"shop": shop, "zone": shop.zone, "now": clock.now()}
