"""Finding a tool as one types: by part, half a word of a note, without accents, and by scanner; and without script."""

import pytest

from tests.browser.axe import OVER, faults
from tests.browser.going import follow
from tests.browser.test_deeds import SIZES, TAPPED, TOO_SMALL, sign_in
from tests.tooling.views.works import do, mold, open_shop
from tooling.models import Place

__all__: list[str] = []


@pytest.fixture
def racks(transactional_db):
    """Three molds; DECK-2A has made a part and has a note, HULL lies at a place with an accent."""
    wax = open_shop()
    loft = Place.objects.create(code="LOFT", name="Rack Ærø, étagère 2")
    deck = mold("DECK-2A", wax, name="Sea kayak, deck")
    do("log_pull", deck, came_off="free", part="SK520-DECK")
    do("take_note", deck, note="Keep the gelcoat thin at the coaming")
    mold("HULL520", wax, name="Sea kayak, hull", place=loft)
    mold("TN-HULL", wax, name="Tender, hull")


def codes(page):
    return page.locator("#found .finds .code").all_inner_texts()


def opened(page, person):
    page.goto("/tools/")
    sign_in(page, person)
    page.wait_for_url("**/tools/")
    assert codes(page) == ["DECK-2A", "HULL520", "TN-HULL"]


@pytest.mark.parametrize(
    ("typed", "found"),
    [("sk520-d", ["DECK-2A"]), ("gelco", ["DECK-2A"]), ("etagere", ["HULL520"]), ("AERO hull", ["HULL520"])],
)
def test_what_is_typed_is_found_as_it_is_typed(page, racks, reader, typed, found):
    opened(page, reader)
    with page.expect_response(lambda reply: reply.headers.get("hx-replace-url", "") != ""):
        page.keyboard.type(typed, delay=5)
    page.locator("#found .finds > li").nth(len(found)).wait_for(state="detached")
    assert codes(page) == found
    assert page.locator("#told").inner_text() == f"1 tool with “{typed}”."
    assert page.url.partition("?")[2] == f"q={typed.replace(' ', '+')}"
    page.reload()
    assert codes(page) == found


@pytest.mark.parametrize("pause", [0, 150, 160, 170])  # ms: just when the page asks for what was typed
def test_a_scanner_types_fast_and_ends_with_enter(page, racks, reader, pause):
    opened(page, reader)
    page.locator("main").click(position={"x": 5, "y": 5})
    page.keyboard.type("deck-2a")
    page.wait_for_timeout(pause)
    page.keyboard.press("Enter")
    page.wait_for_url("**/tools/DECK-2A/")


def test_the_sentence_is_kept_in_the_address(page, racks, reader):
    opened(page, reader)
    page.get_by_label("Place", exact=True).select_option("LOFT")
    page.wait_for_url("**/tools/?place=LOFT")
    page.locator("#found .finds > li").nth(1).wait_for(state="detached")
    page.get_by_role("radio", name="List").check()
    page.wait_for_url("**/tools/?place=LOFT&view=list")
    page.reload()
    assert codes(page) == ["HULL520"]
    assert page.get_by_label("Place", exact=True).input_value() == "LOFT"


def test_a_slip_is_mended_with_one_tap(page, racks, reader):
    opened(page, reader)
    page.keyboard.type("tendre")
    page.get_by_role("link", name="tender").click()
    page.wait_for_url("**/tools/?q=tender")
    assert codes(page) == ["TN-HULL"]


def test_without_script_the_button_finds(chromium, live_server, racks, reader):
    context = chromium.new_context(base_url=live_server.url, java_script_enabled=False)
    page = context.new_page()
    opened(page, reader)
    page.get_by_label("Code, name, part").fill("gelco")
    follow(page, page.get_by_role("button", name="Find"))
    assert codes(page) == ["DECK-2A"]
    context.close()


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_the_page_is_sound(page, racks, reader, size, scheme):
    width, height = SIZES[size]
    page.set_viewport_size({"width": width, "height": height})
    page.emulate_media(color_scheme=scheme)
    opened(page, reader)
    page.get_by_text("Say more").click()
    for view in ("Pictures", "List"):
        page.get_by_role("radio", name=view).check()
        page.locator(f"#found .finds{'.flat' if view == 'List' else ':not(.flat)'}").wait_for()
        assert faults(page) == []
        assert page.evaluate(OVER) == 0
        assert page.evaluate(TOO_SMALL, TAPPED) == []
    page.set_viewport_size({"width": 320, "height": 640})
    assert page.evaluate(OVER) == 0
