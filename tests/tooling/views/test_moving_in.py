"""The pages of moving in: upload, match, words, try, mend, bring in, drop."""

import threading
from io import BytesIO

import openpyxl
import pytest

from tests.tooling.moving_in.uploads import agree, book, take_up, uploaded
from tooling.models import ColumnMatch, Job, MovingIn, Place, ReleaseSystem, Tool, WordMatch
from tooling.services.jobs.working import work

pytestmark = pytest.mark.django_db

OURS = "code,kind,name\nM-1,mold,One\n"
FOREIGN = [["Tag", "What it is", "Sort of"], ["HULL 7", "Hull mold", "Form"], ["M-2", "Deck", "mold"]]


@pytest.fixture
def page(client, lead):
    """Signed in as lead; a posted form is followed to the page that it leads to."""
    client.force_login(lead)
    client.send = lambda address, **said: client.post(address, said, follow=True)
    return client


def upload(page, name, content):
    return page.send("/import/", files=[uploaded(name, content)])


def done():
    work(threading.Event(), once=True)
    return MovingIn.objects.get()


def test_one_of_ours_is_tried_at_once_and_comes_in(page):
    reply = upload(page, "tools.csv", OURS)
    moving = MovingIn.objects.get()
    assert reply.redirect_chain == [(f"/import/{moving.pk}/", 302)]
    assert "Waits for its turn." in reply.text
    done()
    assert "The one row is right" in page.get(f"/import/{moving.pk}/").text
    assert not Tool.objects.exists()
    page.send(f"/import/{moving.pk}/bring-in/")
    done()
    assert Tool.objects.get().code == "M-1"
    text = page.get(f"/import/{moving.pk}/").text
    assert "1 row was brought in." in text
    assert "Brought in" in page.get("/import/").text
    assert "This was brought in already." in page.send(f"/import/{moving.pk}/bring-in/").text


def test_what_is_none_is_said_at_the_field(page):
    reply = upload(page, "x.xls", bytes.fromhex("d0cf11e0a1b11ae1"))
    assert "an old .xls workbook" in reply.text
    assert "Choose a file first." in page.send("/import/").text
    assert not MovingIn.objects.exists()


def foreign(page):
    upload(page, "list.xlsx", book(Liste=FOREIGN, Prices=[["Resin", "Sum"], ["x", 1]]))
    return MovingIn.objects.get()


def said(**columns):
    """What the page of matching sends for the sheet of tools and the one that is left out."""
    shown = {"s0": "tools", "shown0": "tools", "h0": 1, "shown_row0": 1, "s1": "", "shown1": "", "h1": 1}
    return {**shown, "shown_row1": 1, "c0_0": "code", "c0_1": "name", "c0_2": "kind", "do": "try", **columns}


def test_columns_are_matched_by_hand_and_remembered(page):
    moving = foreign(page)
    text = page.get(f"/import/{moving.pk}/match/").text
    assert "the first cells say HULL 7, M-2" in text
    assert "Some of your columns are not called as ours are." in page.get(f"/import/{moving.pk}/").text
    reply = page.send(f"/import/{moving.pk}/match/", **said())
    assert reply.redirect_chain == [(f"/import/{moving.pk}/", 302)]
    assert ColumnMatch.objects.get(their_sheet="liste", their_column="sort_of").column == "kind"
    assert done().report["wrong_rows"] == 1


def test_a_column_matched_twice_is_refused_at_the_field(page):
    moving = foreign(page)
    text = page.send(f"/import/{moving.pk}/match/", **said(c0_2="name")).text
    assert "“What it is” is name already. Say another one, or leave this out." in text
    assert not ColumnMatch.objects.exists()
    assert not Job.objects.exists()


@pytest.mark.parametrize(
    ("columns", "words"),
    [
        ({"c0_0": ""}, "tools cannot do without code: say which of your columns it is"),
        ({"c0_2": ""}, "tools cannot do without kind"),
        ({"c0_2": "no such column"}, "Choose one of those offered."),
        ({"k0": "plug"}, "A column says it already"),
    ],
)
def test_what_is_needed_has_to_be_said(page, columns, words):
    moving = foreign(page)
    assert words in page.send(f"/import/{moving.pk}/match/", **said(**columns)).text
    assert not ColumnMatch.objects.exists()


def test_another_sheet_shows_its_columns_first(page):
    moving = foreign(page)
    text = page.send(f"/import/{moving.pk}/match/", **said(s0="places")).text
    assert "These are now the columns as you chose." in text
    assert "max_load_kg" in text
    assert not ColumnMatch.objects.exists()
    # and another row of headings shows what stands there
    text = page.send(f"/import/{moving.pk}/match/", **said(h0=2)).text
    assert "Hull mold" in text
    assert "the first cells say M-2" in text


@pytest.mark.parametrize("row", ["", "-1", "x", "99999999999999999999", "²"])
def test_a_row_of_headings_that_is_none(page, row):
    moving = foreign(page)
    assert page.send(f"/import/{moving.pk}/match/", **said(h0=row)).status_code == 200
    assert not ColumnMatch.objects.exists()


def test_words_are_matched_by_hand_and_codes_and_places_with_one_tick(page):
    moving = foreign(page)
    page.send(f"/import/{moving.pk}/match/", **said())
    done()
    text = page.get(f"/import/{moving.pk}/").text
    assert "1 row of 2 is wrong" in text
    assert "<b>Form</b> (kind)" in text
    assert 'HULL 7</span> → <span class="nb">HULL-7' in text
    assert "Form" in page.get(f"/import/{moving.pk}/words/").text
    page.send(f"/import/{moving.pk}/words/", w0="mold")
    assert WordMatch.objects.get(column="kind").ours == "mold"
    assert done().report["wrong_rows"] == 1
    page.send(f"/import/{moving.pk}/try/", settles=1, proposed_codes="on")
    assert done().report["wrong_rows"] == 0
    # nothing more is asked about words
    assert page.get(f"/import/{moving.pk}/words/").url == f"/import/{moving.pk}/"


def test_the_marked_up_one_is_mended_and_comes_in(page):
    upload(page, "tools.csv", "code,kind,name\nM 1,mold,One\n")
    moving = done()
    reply = page.get(f"/import/{moving.pk}/marked-up/")
    assert reply["Content-Disposition"] == 'attachment; filename="tools-to-mend.xlsx"'
    made = openpyxl.load_workbook(BytesIO(b"".join(reply.streaming_content)))
    made["tools"]["A2"] = "M-1"
    held = BytesIO()
    made.save(held)
    assert "Nothing was written" in page.send(f"/import/{moving.pk}/bring-in/").text
    page.send(f"/import/{moving.pk}/again/", files=[uploaded("tools.xlsx", held.getvalue())])
    assert done().report["wrong_rows"] == 0
    assert page.get(f"/import/{moving.pk}/marked-up/").status_code == 404
    page.send(f"/import/{moving.pk}/bring-in/")
    done()
    assert Tool.objects.get().code == "M-1"


def test_a_cancelled_try_writes_nothing_and_says_so(page):
    upload(page, "tools.csv", OURS)
    job = Job.objects.get()
    page.send(f"/jobs/{job.pk}/cancel/")
    moving = done()
    assert "Cancelled before it began." in page.get(f"/import/{moving.pk}/").text
    page.send(f"/import/{moving.pk}/try/")
    assert done().report["wrong_rows"] == 0


def test_it_is_dropped_but_not_while_something_is_done_with_it(page):
    upload(page, "tools.csv", OURS)
    moving = MovingIn.objects.get()
    assert "Wait until it has ended" in page.send(f"/import/{moving.pk}/drop/").text
    done()
    assert "Dropped." in page.send(f"/import/{moving.pk}/drop/").text
    assert not MovingIn.objects.exists()
    assert page.get(f"/import/{moving.pk}/").status_code == 404


def test_a_file_that_broke_on_the_disk_says_so(page, lead):
    from tooling.services.moving_in.files import sheets_folder

    moving = take_up(lead, ("list.xlsx", book(tools=[["code", "kind", "name"], ["M-1", "mold", "One"]])))
    agree(moving)
    (sheets_folder(moving) / "list.xlsx").write_bytes(b"PK")
    assert "no workbook that can be read" in page.get(f"/import/{moving.pk}/").text
    assert page.get(f"/import/{moving.pk}/match/").url == f"/import/{moving.pk}/"
    assert not Place.objects.exists()


def test_the_form_to_fill_in_and_the_way_out(page):
    reply = page.get("/import/moving-in.xlsx")
    assert openpyxl.load_workbook(BytesIO(reply.content)).sheetnames[-1] == "words"
    page.send("/export/", **{"as": "csv"})
    assert Job.objects.get().given == {"as": "csv"}
    work(threading.Event(), once=True)
    assert "Download shop-" in page.get(f"/jobs/{Job.objects.get().pk}/").text


def test_a_starter_recipe_is_taken_in_with_the_word_that_means_it(page):
    upload(page, "tools.csv", "code,kind,name,release_system\nM-1,mold,One,carnauba\n")
    moving = done()
    text = page.get(f"/import/{moving.pk}/words/").text
    assert "common practice, no source" in text
    page.send(f"/import/{moving.pk}/words/", w0="starter:WAX")
    assert ReleaseSystem.objects.get().code == "WAX"
    assert WordMatch.objects.get().ours == "WAX"
    assert done().report["wrong_rows"] == 0


def test_all_molds_without_a_recipe_get_one_and_what_was_said_is_remembered(page):
    upload(page, "tools.csv", OURS)
    moving = done()
    text = page.get(f"/import/{moving.pk}/").text
    assert "mold without one: 1" in text
    assert "So each would stand in the shop." in text
    page.send(f"/import/{moving.pk}/try/", recipes=1, recipe_mold="starter:WAX")
    assert done().report["tools"][0]["recipe"] == "WAX"
    page.send(f"/import/{moving.pk}/drop/")
    upload(page, "tools.csv", OURS)
    assert MovingIn.objects.get().given["recipe_mold"] == "WAX"


def test_what_is_wrong_is_left_out_and_taken_back_again(page):
    upload(page, "tools.csv", OURS + "M-2,mold,Two,\nM-3,boat,Three\n")
    moving = done()
    page.send(f"/import/{moving.pk}/try/", settles=1, leave_wrong="on")
    assert done().report["out_rows"] == 1
    text = page.get(f"/import/{moving.pk}/").text
    assert "1 row is left out" in text
    assert "2 rows are right" in text
    page.send(f"/import/{moving.pk}/try/", take_all=1)
    assert done().report["wrong_rows"] == 1
