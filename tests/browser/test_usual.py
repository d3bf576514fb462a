"""The recipe that a new tool is proposed follows its kind."""

from tests.browser.test_deeds import sign_in
from tests.tooling.views.works import open_shop, recipe
from tooling.models import Tool


def test_the_usual_recipe_is_named_as_the_kind_is_chosen(page, transactional_db, lead):
    open_shop()
    recipe("WAX-PLUG")
    page.goto("/tools/new/all/")
    sign_in(page, lead)
    chosen = page.locator("#id_release_system option:checked")
    assert chosen.inner_text() == "as usual for its kind"
    page.select_option("#id_kind", "plug")
    chosen.filter(has_text="as usual for a plug: WAX-PLUG").wait_for(state="attached")
    page.select_option("#id_kind", "trim_mask")
    assert chosen.inner_text() == "as usual for its kind"
    page.select_option("#id_kind", "mold")
    page.fill("#id_code", "DECK")
    page.fill("#id_name", "Kayak deck")
    page.locator("main button[type=submit]").click()
    page.wait_for_url("**/tools/DECK/")
    assert Tool.objects.get().release_system.code == "WAX"
