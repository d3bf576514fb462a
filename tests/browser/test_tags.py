"""Tags of what Find found, on a sheet that was begun, from a phone; and the way back."""

import pytest

from tests.browser.axe import faults
from tests.browser.test_deeds import sign_in
from tests.shared.paper.needs import pango
from tests.shared.paper.phones import pages, read
from tests.tooling.views.works import mold, open_shop
from tooling.models import TagPrint


@pango
def test_tags_of_what_was_found_from_the_third_place_of_a_sheet(page, transactional_db, hand, settings, tmp_path):
    settings.SITE_URL, settings.DATA_DIR = "http://shop.lan:8000", tmp_path
    wax = open_shop()
    for code in ("DECK-2A", "DECK-2B", "HULL520"):
        mold(code, wax, pulls=None)
    page.goto("/tools/?q=deck")
    sign_in(page, hand)
    page.get_by_role("link", name="Print tags of these 2").click()
    for wide, says in ((320, "fitted"), (390, "fitted"), (450, "true")):
        page.set_viewport_size({"width": wide, "height": 800})
        box = page.locator(".tag-hold .tag").first.bounding_box()
        assert (box["x"] >= 0, box["x"] + box["width"] <= wide) == (True, True)
        assert page.locator(".tag-hold").first.evaluate("one => one.scrollWidth <= one.clientWidth")
        assert says in page.locator("#looks").inner_text()
    page.locator("[name=stock][value=a4-sheet]").check()
    page.locator("[name=start][value='3']").check()
    assert faults(page) == []
    assert page.locator(".tag-hold .tag").count() == 2
    assert page.locator(".tag-hold .tag").first.bounding_box()["width"] == pytest.approx(100 / 25.4 * 96, abs=1)
    page.get_by_role("button", name="Print these 2").click()
    file = page.get_by_role("link", name="Open the PDF").get_attribute("href")
    [sheet] = pages(page.request.get(file).body(), 150)
    assert read(sheet) == ["HTTP://SHOP.LAN:8000/T/DECK-2A/", "HTTP://SHOP.LAN:8000/T/DECK-2B/"]
    assert read(sheet.crop((0, 0, sheet.width, int(sheet.height * 0.29)))) == []
    page.get_by_role("button", name="They did not come out").click()
    page.wait_for_url("**/tags/")
    assert TagPrint.objects.filter(wanted="spoilt").count() == 2
