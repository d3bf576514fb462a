"""Pictures go up from a phone, with a bar and without a script; every page of them is sound."""

import pytest
from django.conf import settings
from django.test import Client

from tests.browser.axe import OVER, faults
from tests.browser.going import follow
from tests.browser.test_deeds import sound
from tests.shared import phone_pictures
from tests.tooling.pictures import add
from tests.tooling.rows import NOON, make_tool
from tests.tooling.views.deeds.conftest import shop
from tooling.models import Picture
from tooling.services.pictures import take_down

__all__ = ["shop"]
PAGE = "/tools/DECK-2A/pictures/"


@pytest.fixture(autouse=True)
def media(settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path / "media"


@pytest.fixture
def phones(tmp_path):
    """Four pictures of a phone, and a page that is called one."""
    taken = [phone for phone in phone_pictures.thirty() if phone.number in (2, 14, 18, 28)]
    paths = [tmp_path / f"IMG_{phone.number}.{phone.suffix}" for phone in taken]
    for phone, path in zip(taken, paths, strict=True):
        phone_pictures.write(phone, path)
    no_picture = tmp_path / "IMG_99.jpg"
    no_picture.write_text("<script>alert(1)</script>")
    return [*paths, no_picture]


def sign_in(context, person, address):
    client = Client()
    client.force_login(person, backend="shared.access.RoleBackend")
    session = client.cookies[settings.SESSION_COOKIE_NAME].value
    context.add_cookies([{"name": settings.SESSION_COOKIE_NAME, "value": session, "url": address}])


def test_several_go_up_with_a_bar_and_stand_on_the_page(page, transactional_db, live_server, shop, hand, phones):
    sign_in(page.context, hand, live_server.url)
    page.goto("/tools/DECK-2A/")
    page.get_by_role("link", name="Add a picture").click()
    camera = page.get_by_label("Or take one now")
    assert (camera.get_attribute("capture"), camera.get_attribute("accept")) == (
        "environment", "image/jpeg,image/png,image/webp"
    )  # fmt: skip
    page.get_by_label("Choose pictures").set_input_files(phones[:3])
    camera.set_input_files(phones[3])
    page.get_by_label("Caption").fill("after the repair")
    page.get_by_role("button", name="Add").click()
    page.locator(".gallery img").nth(3).wait_for()
    assert page.get_by_text("Added: 4.").is_visible()
    assert page.get_by_label("Caption").input_value() == ""
    assert Picture.objects.filter(caption="after the repair", added_by=hand).count() == 4
    for image in page.locator(".gallery img").all():
        image.scroll_into_view_if_needed()
        assert image.evaluate("i => i.decode().then(() => i.naturalWidth)") > 0
    page.goto("/tools/DECK-2A/")
    assert page.locator(".first-look img").get_attribute("alt") == "after the repair"


def test_one_that_was_just_taken_goes_up_by_itself(page, transactional_db, live_server, shop, hand, phones):
    sign_in(page.context, hand, live_server.url)
    page.goto(PAGE)
    page.get_by_label("Or take one now").set_input_files(phones[0])
    page.get_by_role("button", name="Add").click()
    page.locator(".gallery img").wait_for()
    assert Picture.objects.count() == 1


def test_what_is_refused_is_named_beside_what_went_in(page, transactional_db, live_server, shop, hand, phones):
    sign_in(page.context, hand, live_server.url)
    page.goto(PAGE)
    page.get_by_label("Choose pictures").set_input_files(phones[-2:])
    page.get_by_label("Caption").fill("after the repair")
    page.get_by_role("button", name="Add").click()
    page.get_by_role("alert").get_by_text("IMG_99.jpg: This is no picture.").wait_for()
    assert page.get_by_text("Added: 1.").is_visible()
    assert page.get_by_text("Not taken: 1.").is_visible()
    assert page.get_by_label("Caption").input_value() == "after the repair"
    page.locator(".gallery img").wait_for()
    sound(page)
    page.get_by_label("Choose pictures").set_input_files(phones[-2])
    page.get_by_role("button", name="Add").click()
    page.get_by_text("There already: 1.").wait_for()
    page.get_by_role("button", name="Rub it out").click()
    page.get_by_role("heading", name="Old pictures").wait_for()
    assert not Picture.objects.on().exists()


def test_what_did_not_get_through_is_kept_and_sent_again(chromium, transactional_db, live_server, shop, hand, phones):
    context = chromium.new_context(base_url=live_server.url)
    sign_in(context, hand, live_server.url)
    page = context.new_page()
    page.goto(PAGE)
    page.get_by_label("Choose pictures").set_input_files(phones[:2])
    page.get_by_label("Or take one now").set_input_files(phones[2])
    page.route("**/pictures/", lambda route: route.abort() if route.request.method == "POST" else route.continue_())
    page.get_by_role("button", name="Add").click()
    page.get_by_role("alert").get_by_text("Not taken: 3.").wait_for()
    assert page.get_by_text("It did not get through.").count() == 3
    assert page.get_by_label("Choose pictures").evaluate("i => i.files.length") == 2
    assert page.get_by_label("Or take one now").evaluate("i => i.files.length") == 1
    page.unroute("**/pictures/")
    page.get_by_role("button", name="Send again").click()
    page.locator(".gallery img").nth(2).wait_for()
    assert page.get_by_text("Added: 3.").is_visible()
    assert page.get_by_role("button", name="Add").is_visible()
    context.close()


def test_a_folder_named_by_codes_goes_up_file_by_file(
    page, transactional_db, live_server, shop, hand, phones, tmp_path
):
    folder = tmp_path / "phone" / "DECK-2A"
    folder.mkdir(parents=True)
    for path in phones:
        path.rename(folder / path.name)
    sign_in(page.context, hand, live_server.url)
    page.goto(PAGE)
    page.get_by_role("link", name="Pictures of many tools at once").click()
    page.get_by_label("Or a whole folder").set_input_files(folder.parent)
    page.get_by_role("button", name="Add").click()
    page.get_by_role("alert").get_by_text("DECK-2A/IMG_99.jpg: This is no picture.").wait_for()
    assert page.get_by_text("Added: 4.").is_visible()
    sound(page)
    page.get_by_role("link", name="See the tools").click()
    page.get_by_role("heading", name="Find").wait_for()
    assert page.locator("#found").get_by_role("link", name="DECK-2A").is_visible()
    assert Picture.objects.filter(tool=shop.mold, added_by=hand).count() == 4


def test_without_a_script_they_go_up_in_one_piece(chromium, transactional_db, live_server, shop, hand, phones):
    context = chromium.new_context(base_url=live_server.url, java_script_enabled=False)
    sign_in(context, hand, live_server.url)
    page = context.new_page()
    page.goto(PAGE)
    page.get_by_label("Choose pictures").set_input_files(phones)
    follow(page, page.get_by_role("button", name="Add"))
    assert page.get_by_text("IMG_99.jpg: This is no picture.").is_visible()
    assert page.locator(".gallery > li").count() == 4
    context.close()


@pytest.mark.parametrize("role", ["reader", "hand", "lead"])
@pytest.mark.parametrize(("width", "scheme"), [(390, "light"), (1280, "dark")])
def test_every_page_is_sound(page, transactional_db, live_server, shop, request, role, width, scheme):
    one, two = add(shop.mold, 1, caption="from above"), add(shop.mold, 2)
    old = add(shop.mold, 3)
    take_down(old, by=None, at=NOON)
    make_tool("BARE")
    page.set_viewport_size({"width": width, "height": 900})
    page.emulate_media(color_scheme=scheme)
    sign_in(page.context, request.getfixturevalue(role), live_server.url)
    for address in (PAGE, "/tools/BARE/pictures/", *(["/pictures/"] if role != "reader" else [])):
        page.goto(address)
        sound(page)
    page.goto("/tools/DECK-2A/")
    assert faults(page) == []
    assert page.evaluate(OVER) == 0
    if role == "lead":
        for picture in (one, two, old):
            page.goto(f"{PAGE}{picture.pk}/")
            sound(page)
