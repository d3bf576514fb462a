"""The tablet on the wall with nobody at it: what it keeps, what it lets go; and a pull on one screen of it."""

import pytest

from tests.tooling.views.works import do, mold, open_shop
from tooling.models import Person
from tooling.services import pins


@pytest.fixture
def tablet(transactional_db, opened, station):
    """The page of a pull, with a clock that the test turns."""
    wax = open_shop()
    pins.set_pin(Person.objects.named("Mara"), pin="8205")
    do("lay_up", mold("DECK-2A", wax))
    page = opened(station.name, 1280, 800)
    page.clock.install()
    page.goto("/tools/DECK-2A/pulled/")
    return page


def pulled(page, pin, word="Free"):
    page.locator("label.person", has_text="Mara").click()
    for digit in pin:
        page.locator(".pad").get_by_role("button", name=digit, exact=True).click()
    page.get_by_role("button", name=word).click()


def test_what_was_refused_stays_and_the_name_goes(tablet):
    tablet.get_by_text("Several at once").click()
    tablet.locator("[name=note]").fill("tape came with it")
    pulled(tablet, "1597")
    tablet.get_by_text("That is not the PIN of Mara.").first.wait_for()
    tablet.clock.run_for(300_000)
    assert tablet.url.endswith("/pulled/")
    assert tablet.locator("[name=note]").input_value() == "tape came with it"
    assert tablet.locator("[name=by]:checked").count() == 0


def test_a_changed_chip_stays_and_a_name_alone_does_not(tablet):
    tablet.get_by_text("When it came off: just").click()
    tablet.locator("label:has([value=earlier])").click()
    tablet.clock.run_for(300_000)
    assert tablet.url.endswith("/pulled/")
    tablet.reload()
    tablet.locator("label.person").first.click()
    tablet.clock.run_for(121_000)
    tablet.wait_for_url("**/wall/")


def test_what_is_seen_after_a_pull_is_open_for_twenty_seconds(tablet):
    pulled(tablet, "8205", "Stuck")
    tablet.wait_for_url("**/seen/")
    tablet.clock.run_for(15_000)
    assert tablet.url.endswith("/seen/")
    tablet.clock.run_for(6_000)
    tablet.wait_for_url("**/wall/")


def test_hands_pin_and_all_five_marks_are_on_one_screen(tablet):
    tablet.locator("label.person", has_text="Mara").click()
    for width, height in ((1280, 800), (1024, 768), (768, 1024)):
        tablet.set_viewport_size({"width": width, "height": height})
        for one in tablet.locator(".mark-deed, .pad button").all():
            box = one.bounding_box()
            assert box["y"] + box["height"] <= height
            assert min(box["height"], box["width"]) >= 44
