"""A look finds a defect larger, and holds the tool; a repair closes the defect; the next look frees the tool."""

import pytest

from tests.browser.going import follow
from tests.browser.test_deeds import sound
from tests.tooling.views.deeds.conftest import shop
from tooling.models import Entry, Summary

__all__ = ["shop"]


@pytest.fixture
def floor(transactional_db, shop, opened, hand):
    """A phone at the mold."""
    return opened(hand.name, 390)


def open_defects():
    return Summary.objects.get(tool__code="DECK-2A").open_defects


def held():
    return Summary.objects.get(tool__code="DECK-2A").held_since is not None


def look(page, verdict):
    page.get_by_label(verdict).check()
    follow(page, page.get_by_role("button", name="Looked at", exact=True))


def test_a_defect_that_a_look_found_larger_is_closed_by_a_repair(floor):
    floor.goto("/tools/DECK-2A/defects/new/")
    floor.get_by_label("crack", exact=True).check()
    floor.get_by_label("How long it is (mm)").fill("12")
    follow(floor, floor.get_by_role("button", name="Keep the defect"))
    assert (open_defects(), held()) == (1, False)

    floor.goto("/tools/DECK-2A/looked-at/")
    floor.get_by_label("larger", exact=True).check()
    look(floor, "no, hold it")
    assert (open_defects(), held()) == (1, True)

    floor.goto("/tools/DECK-2A/repair/")
    assert floor.get_by_role("checkbox", checked=True).count() == 1, "closing the one that is open is proposed"
    floor.get_by_label("filled", exact=True).check()
    follow(floor, floor.get_by_role("button", name="Repaired", exact=True))
    assert (open_defects(), held()) == (0, True)
    assert Entry.objects.get(kind="repair").payload["defects"].startswith("1 closed")

    floor.goto("/tools/DECK-2A/looked-at/")
    look(floor, "yes, free it")
    assert not held()
    floor.goto("/tools/DECK-2A/defects/1/")
    story = floor.locator("main").inner_text()
    assert story.index("Found") < story.index("larger") < story.index("Mended by a repair")
    sound(floor)
