"""A shop's own workbook in a browser: its columns are matched, the marked-up one is mended, and it comes in."""

import threading
from datetime import date

import openpyxl
import pytest

from tests.browser.axe import OVER, faults
from tests.browser.test_pictures import sign_in
from tests.tooling.moving_in.uploads import book
from tooling.models import Entry, Tool
from tooling.services.jobs.working import work
from tooling.services.recipes import add_system

HEADER = ["Mold no.", "What it is", "Type", "Lives", "Weight (lb)", "Last waxed", "Pulls since", "Wax"]
ROWS = [
    ["HULL 7/B", "Hull mold", "Form", "Rack B2", 84, date(2026, 3, 2), 2, "carnauba"],
    ["DECK-2", "Deck mold", "mold", "Rack B2", 40, None, None, "carnauba"],
    ["P-1", "Plug of the hull", "plug", "Loft", None, date(2126, 3, 2), None, "carnauba"],
]


@pytest.fixture
def ready(page, transactional_db, live_server, lead, tmp_path):
    """The page of a lead, and the path of the shop's own list."""
    add_system(code="PASTE", columns={"name": "Paste wax", "family": "paste_wax"})
    path = tmp_path / "tooling list.xlsx"
    path.write_bytes(
        book(Molds=[["Our molds, spring"], HEADER, *ROWS], Prices=[["Resin", "Price"], ["vinyl ester", 12]])
    )
    sign_in(page.context, lead, live_server.url)
    return page, path


def sound(page):
    """Whatever is on it now can be read and used, at a desk and on a phone."""
    for width in (1280, 390, 320):
        page.set_viewport_size({"width": width, "height": 900})
        assert faults(page) == []
        assert page.evaluate(OVER) == 0


def done(page, then):
    """The worker does what waits, and the page goes on by itself."""
    work(threading.Event(), once=True)
    page.get_by_text(then).first.wait_for()
    sound(page)


def test_matched_mended_and_brought_in(ready, tmp_path):
    page, path = ready
    page.goto("/import/")
    sound(page)
    page.get_by_label("Your workbook").set_input_files(path)
    page.get_by_role("button", name="Upload it").click()
    page.get_by_role("heading", name="Which column is which").wait_for()
    assert page.get_by_label("Weight (lb)").input_value() == "mass_kg in lb"
    page.get_by_label("Pulls since").select_option("total_pulls")
    page.get_by_label("Last waxed").select_option("total_pulls")
    page.get_by_role("button", name="Keep this and try it").click()
    page.get_by_text("“Last waxed” is all pulls so far already.").wait_for()
    sound(page)
    page.get_by_label("Last waxed").select_option("last_coat")
    page.get_by_label("Pulls since").select_option("pulls_since_coat")
    page.get_by_role("button", name="Keep this and try it").click()
    page.get_by_text("Waits for its turn.").wait_for()
    done(page, "3 rows of 3 are wrong")

    page.get_by_role("link", name="Say what they mean").click()
    page.get_by_label("Form").select_option("mold")
    page.get_by_label("carnauba").select_option("PASTE")
    sound(page)
    page.get_by_role("button", name="Keep this and try it").click()
    done(page, "3 rows of 3 are wrong")
    page.get_by_label("Take the codes in as proposed").check()
    page.get_by_label("Put up the places that are like none of yours").check()
    page.get_by_role("button", name="Try it like this").click()
    done(page, "1 row of 3 is wrong")
    assert page.get_by_text("This lies in the future.").is_visible()

    with page.expect_download() as waiting:
        page.get_by_role("link", name="Download the marked-up workbook").click()
    mended = tmp_path / waiting.value.suggested_filename
    waiting.value.save_as(mended)
    made = openpyxl.load_workbook(mended)
    assert made["Molds"]["F5"].comment.text.startswith("This lies in the future.")
    made["Molds"]["F5"] = date(2026, 3, 2)
    made.save(mended)
    page.get_by_label("Your workbook").set_input_files(mended)
    page.get_by_role("button", name="Upload and try it").click()
    done(page, "3 rows are right")
    assert not Tool.objects.exists()
    page.get_by_role("button", name="Bring it in").click()
    done(page, "3 rows were brought in.")
    assert sorted(Tool.objects.values_list("code", flat=True)) == ["DECK-2", "HULL-7-B", "P-1"]
    assert Entry.objects.filter(kind="starting_state").count() == 3


def test_without_a_script_it_is_seen_by_looking_again(chromium, transactional_db, live_server, lead, tmp_path):
    path = tmp_path / "tools.csv"
    path.write_text("code,kind,name\nM-1,mold,One\n")
    context = chromium.new_context(base_url=live_server.url, java_script_enabled=False)
    sign_in(context, lead, live_server.url)
    page = context.new_page()
    page.goto("/import/")
    page.get_by_label("Your workbook").set_input_files(path)
    page.get_by_role("button", name="Upload it").click()
    page.get_by_role("link", name="See how far it is").wait_for()
    work(threading.Event(), once=True)
    page.get_by_text("The one row is right").wait_for()  # the page comes again by itself
    page.get_by_role("button", name="Bring it in").click()
    work(threading.Event(), once=True)
    page.get_by_text("1 row was brought in.").wait_for()
    assert Tool.objects.get().code == "M-1"
    context.close()
