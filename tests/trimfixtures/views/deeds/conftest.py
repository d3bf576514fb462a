"""The shop of the deeds' tests, with parts that wait to be trimmed."""

import pytest

from tests.tooling.views.deeds.conftest import happened, send, shop, two
from tooling.models import Part, PartRevision, SetLine

__all__ = ["send", "shop", "two"]


@pytest.fixture
def pulled(shop):
    """Serial numbers 0170 to 0172 of a part whose set has the trim mask, the last pulled last."""
    revision = PartRevision.objects.get(part__number="SK520-DECK")
    SetLine.objects.create(revision=revision, role="trim_mask", tool=shop.mask)
    for serial in ("0170", "0171", "0172"):
        happened.log_pull(shop.mold, part="SK520-DECK", serial=serial, came_off="free")
    return Part.objects.get(number="SK520-DECK")
