"""The page of a tool's readings, its table, and the page of the shop's limits."""

import csv
import re
from datetime import date
from decimal import Decimal
from io import StringIO

import pytest

from tests.tooling.pictures import file_of
from tests.tooling.views.works import ago, do, mold
from tooling.models import ReadingLimit
from tooling.services.pictures import add_stored, store
from tooling.services.reading_limits import set_limit

pytestmark = pytest.mark.django_db
PAGE, LIMITS = "/tools/DECK/readings/", "/readings/limits/"
SENT = {
    "do": "keep", "kind": "mold", "tool": "", "quantity": "Gloss", "unit": "GU", "geometry": "60°", "limit": "70",
    "worse": "down", "note": "",
}  # fmt: skip


@pytest.fixture
def deck(morning):
    return mold("DECK", morning)


def read(tool, value, hours, **said):
    said = {"quantity": "gloss", "unit": "GU", "geometry": "60°", "spot": "keel", **said}
    return do("take_reading", tool, value=Decimal(value), at=ago(hours=hours), **said)


def limit(**said):
    gloss = {"quantity": "gloss", "unit": "GU", "geometry": "60°", "limit": Decimal(70), "worse": "down"}
    return set_limit(**{**gloss, "kind": "mold", **said})


def words(reply):
    return " ".join(re.sub(r"<[^>]+>", " ", reply.text).split())


def test_nothing_was_measured_yet(sign_in, deck):
    page = sign_in("reader").get(PAGE)
    assert "Nobody has measured anything of it yet." in words(page)
    assert "/tools/DECK/reading/" not in page.text
    assert "/tools/DECK/reading/" in sign_in("hand").get(PAGE).text
    assert sign_in("hand").get("/tools/NONE/readings/").status_code == 404
    assert sign_in("hand").get("/tools/deck/readings/").url == PAGE


def test_a_series_is_drawn_and_its_values_stand_below(sign_in, deck):
    limit(note="dull below it")
    old = {"instrument": "meter 2", "calibrated_until": date(2026, 1, 2), "standard": "ISO 2813"}
    for number in range(6):
        do("log_pull", deck, at=ago(hours=90 - number * 10), count=10, came_off="free")
        read(deck, str(84 - 2 * number), 89 - number * 10)
        read(deck, str(82 - 3 * number), 89 - number * 10, spot="bow", **(old if number == 5 else {}))
    page = sign_in("hand").get(PAGE)
    said = words(page)
    assert "Gloss 60° reaches 70 GU after about 2 pulls more, hardly before 2 (one in twenty sooner)." in said
    assert "70.5 GU, the mean of 2 values from 67 to 74" in said
    assert "1 of 2 values of the last visit is past the limit, their mean is not." in said
    assert "keel 74 , bow 67 GU past the limit" in said
    assert "At least 70 GU, for every mold. dull below it" in said
    assert said.count("its calibration had ended") == 1
    assert (page.text.count('<svg class="drawn trend"'), "Fieller" in said) == (2, True)
    assert LIMITS + "?change=" not in page.text
    assert LIMITS + "?change=" in sign_in("lead").get(PAGE).text


def test_queries_do_not_grow_with_the_history(sign_in, deck, django_assert_num_queries):
    client = sign_in("hand")
    for count in (1, 8):
        for number in range(count):
            do("log_pull", deck, at=ago(hours=9 * count - number), came_off="free")
            read(deck, "80", 9 * count - number - 0.5)
        with django_assert_num_queries(9):
            client.get(PAGE)


def test_the_table_has_every_value_as_it_was_written(sign_in, deck):
    read(deck, "80.50", 30, note="=1+1", minutes=Decimal(5), unit="mbar", quantity="vacuum drop", geometry="")
    do("repair", deck, at=ago(hours=20), area="spot")
    read(deck, "0.25", 10, unit="in", quantity="depth", geometry="")
    reply = sign_in("reader").get("/tools/DECK/readings.csv")
    title, *rows = csv.reader(StringIO(reply.getvalue().decode("utf-8-sig")))
    assert title[2:6] == ["after [pulls]", "segment", "value", "unit"]
    assert [row[0] for row in rows] == ["depth", "vacuum drop"]
    assert [row[3:8] for row in rows] == [["1", "0.25", "in", "", ""], ["1", "80.50", "mbar", "", "5"]]
    assert rows[1][-1] == "'=1+1"


def test_a_lead_sets_changes_takes_out_and_puts_back(sign_in, deck):
    client = sign_in("lead")
    assert 'value="DECK"' not in client.get(LIMITS + "?of=DECK&quantity=gloss&unit=GU").text
    client.post(LIMITS, SENT)
    row = ReadingLimit.objects.get()
    assert (row.quantity, row.limit, row.kind) == ("gloss", 70, "mold")
    page = client.get(f"{LIMITS}?change={row.pk}")
    assert "Gloss 60° at least 70 GU every mold" in words(page)
    client.post(LIMITS, {**SENT, "row": row.pk, "tool": "deck", "limit": "72,5"})
    row = ReadingLimit.objects.standing().get()
    assert (row.limit, row.tool) == (Decimal("72.5"), deck)
    gone = client.post(LIMITS, {"do": f"out.{row.pk}"})
    assert not ReadingLimit.objects.standing().exists()
    assert "What held before" in client.get(LIMITS).text
    assert "ended by Test lead" in client.get(LIMITS).text
    assert f'value="back.{row.pk}"' in client.get(gone.url).text
    client.post(LIMITS, {"do": f"back.{row.pk}"})
    assert ReadingLimit.objects.standing().get() == row
    assert client.post(LIMITS, {"do": f"back.{row.pk}"}).status_code == 302


def test_what_another_lead_changed_meanwhile_is_not_written_over(sign_in, deck):
    row, client = limit(), sign_in("lead")
    limit(row=row, limit=Decimal(65), at=ago(hours=1))
    page = client.post(LIMITS, {**SENT, "row": row.pk, "limit": "72"})
    assert "Somebody changed this limit or took it out meanwhile" in page.text
    assert (ReadingLimit.objects.standing().get().limit, 'value="72"' in page.text) == (65, True)


def test_bad_input_keeps_what_was_typed_and_others_only_read(sign_in, deck):
    limit()
    client = sign_in("lead")
    page = client.post(LIMITS, {**SENT, "limit": "much", "tool": "NONE", "note": "kept"})
    assert 'value="kept"' in page.text
    assert ("There is no tool NONE." in page.text, "much" in page.text) == (True, True)
    assert "There is a limit of this already" in client.post(LIMITS, SENT).text
    assert (
        "changed this limit or took it out meanwhile"
        in client.post(LIMITS, {**SENT, "row": "999", "kind": "plug"}).text
    )
    assert ReadingLimit.objects.count() == 1
    hand = sign_in("hand")
    assert (hand.get(LIMITS).status_code, hand.post(LIMITS, SENT).status_code) == (200, 403)
    assert "Take out" not in hand.get(LIMITS).text


def test_the_page_of_a_tool_shows_where_its_readings_are_going(sign_in, deck):
    client = sign_in("reader")
    assert PAGE not in client.get("/tools/DECK/").text
    limit()
    for hours, value in ((50, "80"), (40, "69")):
        do("log_pull", deck, at=ago(hours=hours + 1), came_off="free")
        read(deck, value, hours)
    page = client.get("/tools/DECK/")
    assert (PAGE in page.text, page.text.count('<svg class="drawn trend"')) == (True, 1)
    assert "Gloss 60° is past the limit of 70 GU." in words(page)


def test_pictures_of_one_spot_stand_side_by_side(sign_in, deck, hand):
    entries = [read(deck, value, hours) for hours, value in ((50, "80"), (40, "79"))]
    for shade, entry in enumerate(entries):
        add_stored(deck, store(file_of(shade)), by=hand, at=ago(hours=1), entry=entry)
    page = sign_in("hand").get(PAGE)
    assert "Seen at keel" in words(page)
    first, second = (page.text.index(f"/entries/{entry.number}/pictures/") for entry in entries)
    assert first < second
