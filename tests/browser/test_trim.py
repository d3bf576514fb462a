"""At the trim bench: a cut in two taps, a gouge with its picture, a check that fails and one that passes."""

import pytest

from tests.browser.day import PHONE, Phone, holds, last, nothing_is_wrong
from tests.browser.going import follow, leading
from tests.browser.test_deeds import PASSWORD
from tests.shared import phone_pictures
from tests.trimfixtures.views.deeds.conftest import pulled, shop
from tooling.models import Picture
from trimfixtures.models import Cutter, Feature, Mask

__all__ = ["pulled", "shop"]


@pytest.fixture
def bench(transactional_db, shop, pulled):
    """Parts that wait to be trimmed, and a trim mask with one cut and two points of its check."""
    mask = Mask.objects.create(tool=shop.mask, outline="0 0; 600 0; 600 300; 0 300", points="bow @ 0; stern @ 900")
    cutter = Cutter.objects.create(code="C6", kind="cutter", nominal_mm=6)
    Feature.objects.create(mask=mask, name="Rim", kind="edge", method="bearing", cutter=cutter, tolerance_mm="0.5")
    return shop


@pytest.fixture
def phone(bench, opened, hand):
    return Phone(opened(hand.name, **PHONE, touch=True))


@pytest.fixture
def plain(bench, chromium, live_server, hand):
    """A page whose browser runs no script."""
    context = chromium.new_context(base_url=live_server.url, java_script_enabled=False, viewport=PHONE)
    page = context.new_page()
    page.goto("/T/COAM-TRIM/")
    page.get_by_label("Name").fill(hand.name)
    page.get_by_label("Password").fill(PASSWORD)
    follow(page, page.get_by_role("button", name="Sign in"))
    yield page
    context.close()


def says(page, address):
    page.goto(address)
    return page.locator("main").inner_text()


def test_two_taps_after_the_scan_and_a_gouge_with_its_picture(phone, bench, hand, settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path / "media"
    phone.scan("COAM-TRIM")
    phone.link("Trimmed")
    phone.button("nothing went wrong")
    phone.at("/tools/COAM-TRIM/")
    assert phone.taps == 2
    cut = last(bench.mask, "used")
    assert (cut.part, cut.serial, cut.by, cut.payload["cutter"]) == ("SK520-DECK", "0172", hand, "C6")
    assert cut.payload["metres"] == "1.8"

    phone.scan("COAM-TRIM")
    phone.link("Trimmed")
    phone.reads("0171")
    phone.button("Gouged")
    phone.at("/cross/")
    phone.reads("Tape a cross on it now.")
    assert (last(bench.mask, "used").payload["outcome"], holds(bench.mask)) == ("gouged", ["hold"])
    taken = next(one for one in phone_pictures.thirty() if one.number == 2)
    phone_pictures.write(taken, tmp_path / f"IMG.{taken.suffix}")
    phone.page.locator("input[type=file]").first.set_input_files(tmp_path / f"IMG.{taken.suffix}")
    phone.button("Add the picture")
    phone.reads("Tap on the picture where it is, or leave it.")
    phone.is_sound()
    assert Picture.objects.get(tool=bench.mask).added_by == hand
    phone.link("To COAM-TRIM")
    phone.reads("Held: a cut was gouged")
    nothing_is_wrong(phone)


def check(page, **found):
    """Taps what was found at each point."""
    for point, word in found.items():
        page.get_by_role("group", name=point).get_by_role("radio", name=word, exact=True).check()


def test_a_check_fails_and_holds_it_and_one_that_passes_lets_it_be_freed(phone, bench):
    phone.scan("COAM-TRIM")
    phone.fold("Other deeds")
    phone.link("Check the cut edge")
    check(phone.page, bow="in", stern="out")
    phone.is_sound()
    phone.button("Write it down")
    phone.at("/cross/")
    assert holds(bench.mask) == ["hold"]
    assert "Held: its check failed" in says(phone.page, "/")
    assert "It may not be used now" in says(phone.page, "/tools/COAM-TRIM/trimmed/")

    phone.scan("COAM-TRIM")
    phone.reads("Held: its check failed", "Its last check failed")
    phone.link("Check the cut edge")
    check(phone.page, bow="in", stern="in")
    phone.button("Write it down")
    phone.at("/tools/COAM-TRIM/looked-at/")
    phone.reads("COAM-TRIM passed, and stays held until somebody looks at it and frees it.")
    phone.chip("yes, free it")
    phone.button("Looked at")
    phone.at("/tools/COAM-TRIM/")
    phone.reads("Usable")
    assert holds(bench.mask) == []
    assert "COAM-TRIM" not in says(phone.page, "/")
    nothing_is_wrong(phone)


def test_without_script_it_is_trimmed_and_checked(plain, bench):
    leading(plain, "Trimmed")
    follow(plain, plain.get_by_role("button", name="nothing went wrong"))
    assert last(bench.mask, "used").serial == "0172"
    for found, said in (("out", "Tape a cross on it now."), ("in", "Held: its check failed")):
        plain.goto("/tools/COAM-TRIM/check/")
        check(plain, bow="in", stern=found)
        follow(plain, plain.get_by_role("button", name="Write it down"))
        assert said in plain.locator("main").inner_text()
        assert last(bench.mask, "check").payload["passed"] == (found == "in")
