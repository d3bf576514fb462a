"""A part that cannot be laid up: the page's own link, the deed, and usable again, on a phone; three reasons."""

import pytest

from tests.browser.going import follow
from tests.browser.test_deeds import happened, shop, sign_in, sound
from tooling.models import Part, SetLine, Shop

__all__ = ["shop"]
PAGE = "/parts/SK520-DECK/"


@pytest.fixture
def deck(transactional_db, shop):
    """The part with its mold, its mold insert and its trim mask; somebody is always there."""
    Shop.objects.update(week="Mon-Sun 00:00-24:00", hands=2)
    revision = Part.objects.get().revisions.get()
    for role, tool in (("mold", shop.mold), ("insert", shop.insert), ("trim_mask", shop.mask)):
        SetLine.objects.create(revision=revision, role=role, tool=tool)
    return shop


def at_the_part(page, hand):
    page.set_viewport_size({"width": 390, "height": 844})
    page.goto(PAGE)
    with page.expect_navigation():
        sign_in(page, hand)
    sound(page)


def says(page, code):
    return page.locator(".set > li", has=page.get_by_role("heading", name=code)).locator(".reason").inner_text()


def test_a_held_trim_mask_is_looked_at(page, deck, hand):
    happened.hold(deck.mask, reason="worn at the coaming")
    at_the_part(page, hand)
    assert says(page, "COAM-TRIM").startswith("Not usable. Held")
    follow(page, page.get_by_role("link", name="Look at it COAM-TRIM"))
    page.get_by_role("radio", name="yes, free it").check()
    follow(page, page.get_by_role("button", name="Looked at"))
    assert says(page, "COAM-TRIM").startswith("Usable.")
    page.locator(".rub", has_text="Written").wait_for()


def test_a_mold_that_wants_wax_is_waxed(page, deck, hand):
    happened.want_wax(deck.mold, reason="squeaks")
    at_the_part(page, hand)
    assert "if the coat goes on now" in page.locator(".verdict").inner_text()
    page.get_by_text("comes about").click()
    assert page.locator(".steps tbody tr").count() == 1
    assert page.locator(".timebar").first.is_visible()
    sound(page)
    follow(page, page.get_by_role("link", name="Coats DECK-2A"))
    follow(page, page.get_by_role("button", name="Coat on"))
    assert says(page, "DECK-2A").startswith("Usable.")
    assert page.locator(".verdict").inner_text() == "Can be laid up now."


def test_a_mold_insert_that_is_out_is_put_in(page, deck, hand):
    happened.remove(deck.insert)
    at_the_part(page, hand)
    assert "It is not in DECK-2A." in says(page, "DECK-2A")
    follow(page, page.get_by_role("link", name="Put HATCH7 in"))
    assert page.get_by_role("radio", name="DECK-2A").is_checked()
    follow(page, page.get_by_role("button", name="It is in"))
    assert says(page, "DECK-2A").startswith("Usable.")
    assert "Can be laid up now." in page.locator("main").inner_text()
