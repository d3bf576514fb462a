"""A lot turned out to be bad: the parts made with it are listed, and one is looked at and marked."""

from datetime import timedelta

import pytest

from shared import clock
from tests.browser.going import follow, leading
from tests.tooling.views.works import do, mold, open_shop
from tooling.models import ContainmentMark


@pytest.fixture
def made(transactional_db, hand):
    """Two decks with tin W14 on the mold, and one before it."""
    deck, now = mold("DECK-2A", open_shop(), pulls=None), clock.now()
    for hours, serial in ((9, "0170"), (6, "0171"), (3, "0172")):
        if serial == "0171":
            do("log_coat", deck, at=now - timedelta(hours=7), lot="W14")
        do("log_pull", deck, by=hand, at=now - timedelta(hours=hours), part="SK520-DECK", serial=serial)


def test_the_parts_of_a_bad_lot_and_one_marked(made, opened, hand):
    page = opened(hand.name, 390)
    page.goto("/lots/")
    leading(page, "W14")
    page.get_by_text("2 parts are in doubt; nobody has looked at one of them yet.").wait_for()
    assert page.get_by_text("0170").count() == 0
    page.get_by_label("0171").check(force=True)
    page.get_by_role("button", name="Not good", exact=True).click()
    page.get_by_role("link", name="Say in a few words what is not good.").wait_for()
    assert page.get_by_label("0171").is_checked()
    page.get_by_label("In words").fill("soft at the scupper")
    follow(page, page.get_by_role("button", name="Not good", exact=True))
    page.get_by_text("1 of 2 looked at, 1 of them not good.").wait_for()
    mark = ContainmentMark.objects.get()
    assert (mark.serial, mark.of_lot, mark.found, mark.by) == ("0171", "W14", "not_good", hand)
    leading(page, "Its story 0171")
    page.get_by_text("“soft at the scupper”").wait_for()
