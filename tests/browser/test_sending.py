"""A bad connection: what is not through says so, stays as typed, is sent again by itself or by hand, counts once."""

from datetime import timedelta

import pytest

from shared import clock
from tests.browser.axe import OVER, faults
from tests.browser.test_deeds import sign_in
from tests.tooling.views.deeds.conftest import shop
from tooling.models import Entry

__all__ = ["shop"]
pytestmark = pytest.mark.bad_connection
PAGE = "/tools/DECK-2A/film/"
NOT_YET = "Not through yet. What you typed stays here."
LEFT = "This was not through when the page was left."


@pytest.fixture
def film(page, transactional_db, shop, hand):
    """The page of a film, with a lot typed into it."""
    page.goto(PAGE)
    sign_in(page, hand)
    page.get_by_label("Lot").fill("tin 14")
    return page


def films():
    return Entry.objects.filter(kind="film").count()


def press(page):
    page.get_by_role("button", name="Film on").click()


def gone_on(page):
    """The deed is through: the page went where the server said."""
    page.wait_for_url(lambda address: not address.endswith(PAGE))


def lose(page, *, written):
    """The next sending gets lost: on its way there, or its answer on the way back."""

    def way(route):
        if written:
            route.fetch(max_redirects=0)
        route.abort()

    page.route(f"**{PAGE}", way, times=1)


@pytest.mark.parametrize("written", [False, True])
def test_what_was_lost_says_so_and_counts_once(film, written):
    lose(film, written=written)
    press(film)
    film.get_by_text(NOT_YET).wait_for()
    assert films() == written
    assert film.get_by_label("Lot").input_value() == "tin 14"
    assert faults(film) == []
    assert film.evaluate(OVER) == 0
    film.get_by_role("button", name="Send again").click()
    gone_on(film)
    assert films() == 1
    assert film.evaluate("Object.keys(sessionStorage).filter((key) => key.startsWith('typed'))") == []


def test_it_goes_by_itself_when_the_signal_is_back(film):
    film.context.set_offline(True)
    press(film)
    film.get_by_text(NOT_YET).wait_for()
    assert films() == 0
    film.context.set_offline(False)
    gone_on(film)
    assert films() == 1


def test_what_was_typed_survives_a_reload_and_an_answer_that_was_lost(film):
    lose(film, written=True)
    press(film)
    film.get_by_text(NOT_YET).wait_for()
    film.on("dialog", lambda dialog: dialog.accept())
    film.reload()
    film.get_by_text(LEFT).wait_for()
    assert film.get_by_label("Lot").input_value() == "tin 14"
    film.get_by_role("button", name="Send again").click()
    gone_on(film)
    assert films() == 1


def test_two_taps_are_one_and_what_is_wrong_is_said_in_place(film):
    film.get_by_text("change", exact=True).click()
    film.get_by_role("radio", name="yesterday").check()
    press(film)
    film.get_by_text("Not written:").wait_for()
    assert film.get_by_label("Lot").input_value() == "tin 14"
    film.get_by_role("radio", name="just now").check()
    film.get_by_role("button", name="Film on").dblclick()
    gone_on(film)
    assert "Written" in film.locator(".rub").inner_text()
    assert films() == 1


def test_a_busy_book_is_said_and_the_deed_waits(film):
    busy = "<main><p data-not-through>Something long is written. Send this again in a moment.</p></main>"
    film.route(f"**{PAGE}", lambda route: route.fulfill(status=503, body=busy), times=1)
    press(film)
    film.get_by_text("Send this again in a moment. What you typed stays here.").wait_for()
    film.get_by_role("button", name="Send again").click()
    gone_on(film)
    assert Entry.objects.get(kind="film").payload["lot"] == "tin 14"


def test_a_deed_that_was_held_up_happened_when_it_was_first_sent(film):
    lose(film, written=False)
    press(film)
    film.get_by_text(NOT_YET).wait_for()
    film.evaluate("Date.now = ((now) => () => now() + 600_000)(Date.now)")
    film.get_by_role("button", name="Send again").click()
    gone_on(film)
    late = clock.now() - Entry.objects.get(kind="film").at
    assert timedelta(minutes=10) <= late < timedelta(minutes=11)
