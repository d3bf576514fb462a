"""What did not get through is kept for its own page, tools and person, and goes out anew by a tap alone."""

import pytest

from tests.browser.test_deeds import sign_in
from tests.browser.test_sending import LEFT, NOT_YET, lose
from tests.tooling.views.deeds.conftest import happened, shop
from tooling.models import Entry, Person, RecipeVersion
from tooling.services import pins
from tooling.services.tins import open_tin
from tooling.services.tools import add_tool

__all__ = ["shop"]
pytestmark = pytest.mark.bad_connection
FILM = "/tools/DECK-2A/film/"
KEPT = "Object.keys(sessionStorage).filter((key) => key.startsWith('typed')).length"


def entries(*kinds):
    return sorted(Entry.objects.filter(kind__in=kinds).values_list("tool__code", flat=True))


def held_up(page, name):
    """A deed is sent, lost on its way, and the page may be left."""
    page.on("dialog", lambda dialog: dialog.accept())
    page.get_by_role("button", name=name, exact=True).first.click()
    page.get_by_text(NOT_YET).wait_for()


def signal_is_back(page):
    """Whether something was sent by itself when the machine said so."""
    return page.evaluate("""() => {
        const asked = [];
        globalThis.fetch = (...one) => { asked.push(one); return new Promise(() => {}); };
        dispatchEvent(new Event("online"));
        return asked.length > 0;
    }""")


@pytest.fixture
def film(page, transactional_db, shop, hand):
    page.goto(FILM)
    sign_in(page, hand)
    page.get_by_label("Lot").fill("tin 14")
    lose(page, written=False)
    held_up(page, "Film on")
    return page


def test_coats_of_some_tools_are_not_those_of_others(page, transactional_db, shop, hand):
    RecipeVersion.objects.update(coats_new=3, coats_again=3)
    for code in ("A1", "A2", "B1"):
        happened.strip(add_tool(code=code, name="m", kind="mold", release_system=shop.wax))
    page.goto("/coats/together/?tool=A1&tool=A2")
    sign_in(page, hand)
    page.route("**/coats/together/**", lambda way: way.abort() if way.request.method == "POST" else way.continue_())
    page.locator("#batch-button button.big").first.click()
    page.get_by_text(NOT_YET).wait_for()
    page.unroute_all()
    page.on("dialog", lambda dialog: dialog.accept())
    page.goto("/coats/together/?tool=B1")
    assert page.locator(".sending").count() == 0
    page.goto("/coats/together/?tool=A1&tool=A2")
    page.get_by_text(LEFT).wait_for()
    page.get_by_role("button", name="Send again").click()
    page.locator(".rub").first.wait_for()
    assert {"A1", "A2"} <= set(entries("coat"))
    assert "B1" not in entries("coat")


def test_what_is_put_back_waits_for_a_tap(film):
    assert signal_is_back(film)
    film.reload()
    film.get_by_text(LEFT).wait_for()
    assert not signal_is_back(film)
    film.get_by_role("button", name="Do not send it").click()
    film.get_by_text(LEFT).wait_for(state="detached")
    assert film.get_by_label("Lot").input_value() == ""
    assert film.evaluate(KEPT) == 0
    assert entries("film") == []


def test_where_the_page_is_about_something_else_it_is_dropped(film, shop, hand):
    open_tin(shop.wax, holder=hand, stuff="film", lot="15", by=hand)
    film.reload()
    film.get_by_text("Look whether it is written before you write it again.").wait_for()
    assert film.get_by_role("button", name="Send again").count() == 0
    assert film.evaluate(KEPT) == 0


@pytest.mark.parametrize("how", ["signs out", "is signed out"])
def test_it_does_not_go_out_under_another_name(film, lead, how):
    if how == "signs out":
        film.get_by_role("button", name="Test hand").click()
        film.get_by_role("button", name="Sign out").click()
        film.get_by_label("Password").wait_for()
        assert film.evaluate(KEPT) == 0
    else:
        film.context.clear_cookies()
    film.goto(FILM)
    sign_in(film, lead)
    film.get_by_role("button", name="Film on").wait_for()
    assert film.locator(".sending").count() == 0
    assert film.get_by_label("Lot").input_value() == ""
    assert not signal_is_back(film)


def test_a_pin_is_never_sent_again_by_itself_and_does_not_stay(page, transactional_db, shop, station):
    pins.set_pin(Person.objects.named("Mara"), pin="8205")
    page.clock.install()
    page.goto(FILM)
    sign_in(page, station)
    page.locator("label.person", has_text="Mara").click()
    page.locator("#id_pin").fill("1597")
    lose(page, written=False)
    held_up(page, "Film on")
    page.clock.fast_forward(121_000)
    assert page.locator("#id_pin").input_value() == ""
    assert page.get_by_text(NOT_YET).is_visible()
    assert not signal_is_back(page)
    assert page.evaluate(KEPT) == 0


def test_a_page_that_came_back_has_one_clock_and_keeps_what_was_typed(page, transactional_db, shop, station):
    pins.set_pin(Person.objects.named("Mara"), pin="8205")
    page.clock.install()
    page.goto("/tools/DECK-2A/coat/")
    sign_in(page, station)
    page.get_by_label("Lot, or the number").fill("by the bow")
    for _ in range(3):
        page.locator("label.person", has_text="Mara").click()
        page.locator("#id_pin").fill("1597")
        page.locator("main form button.big:not([disabled])").first.click()
        page.locator("main:not(.before)").get_by_text("That is not the PIN of Mara.").first.wait_for()
        page.locator("main").evaluate("main => main.classList.add('before')")
    asked = []
    page.on("request", lambda request: asked.append(request.url))
    page.evaluate("document.dispatchEvent(new Event('visibilitychange'))")
    page.clock.fast_forward(121_000)
    page.wait_for_load_state("networkidle")
    assert len([url for url in asked if "coat" in url]) <= 2
    assert page.get_by_label("Lot, or the number").input_value() == "by the bow"
