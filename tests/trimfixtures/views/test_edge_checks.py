"""The page of the checks of a cut edge: what was found, what it was before, where it is going."""

import re
from datetime import UTC, date
from decimal import Decimal

import pytest

from tests.tooling.views.works import ago, mold
from tooling.models import Entry
from tooling.services import deeds as of_tools
from trimfixtures.models import Mask
from trimfixtures.selectors import edge_checks as selector
from trimfixtures.selectors.edge_checks import PAGE as LISTED
from trimfixtures.selectors.edge_checks import edge_checks
from trimfixtures.services.deeds import log_check, log_use
from trimfixtures.words import edge_checks as said_of

pytestmark = pytest.mark.django_db
PAGE = "/tools/RIM/checks/"


@pytest.fixture
def rim(morning):
    tool = mold("RIM", None, kind="trim_mask", pulls=None)
    Mask.objects.create(tool=tool, outline="0 0; 500 0; 500 500; 0 500")
    return tool


def used(tool, hours, count=10):
    return log_use(tool, count=count, at=ago(hours=hours), by=None, recorded_by=None)


def check(tool, hours, points="", *, passed=True, limit="0.5", **said):
    return log_check(
        tool, passed=passed, points=points, limit_mm=limit and Decimal(limit), at=ago(hours=hours), by=None,
        recorded_by=None, **said,
    )  # fmt: skip


def words(reply):
    return " ".join(re.sub(r"<[^>]+>", " ", reply.text).split())


def test_nothing_was_checked_yet(sign_in, rim):
    client = sign_in("reader")
    assert "Nobody has checked its cut edge yet." in words(client.get(PAGE))
    assert f'href="{PAGE}"' in client.get("/tools/RIM/").text
    assert "/tools/RIM/check/" not in client.get(PAGE).text
    assert "/tools/RIM/check/" in sign_in("hand").get(PAGE).text


def test_the_last_check_is_drawn_with_its_table(sign_in, rim, hand):
    used(rim, 30)
    check(rim, 29, "bow @ 0: +0.2; stern @ 1000: in")
    used(rim, 20)
    check(rim, 19, "bow @ 0: +0.61; stern @ 1000: -0.1; keel: out", passed=False, serial="0173", gauge="master part")
    reply = sign_in("hand").get(PAGE)
    said = words(reply)
    assert "Last checked yesterday 12:40: failed." in said
    assert "Failed: 3 points, 2 out." in said
    assert "at these points on that day. It does not pass the part" in said
    assert "Against master part. Tolerance ±0.5 mm. Serial 0173. After 20 parts." in said
    assert "1 bow 0 mm +0.61 mm out: material left +0.2" in said
    assert "2 stern 1000 mm \N{MINUS SIGN}0.1 mm within in" in said
    assert "3 keel out –" in said
    assert (reply.text.count('<svg class="drawn deviations"'), reply.text.count('class="was"')) == (2, 2)


def test_an_earlier_check_is_drawn_by_its_number(sign_in, rim):
    first = check(rim, 29, "bow: +0.2", limit="")
    check(rim, 9, "bow: -0.3")
    client = sign_in("reader")
    said = words(client.get(PAGE, {"check": first.number}))
    assert "The check of Mon 11 May 02:40" in said
    assert "+0.2 mm –" in said
    assert "1 bow \N{MINUS SIGN}0.3 mm within +0.2" in words(client.get(PAGE, {"check": "x" * 40}))


def test_what_measured_after_its_calibration_is_flagged(sign_in, rim):
    check(rim, 9, "bow: 0.1", instrument="Caliper 3", calibrated_until=date(2026, 5, 10))
    assert "Calibration of the instrument had ended: good until" in words(sign_in("hand").get(PAGE))
    check(rim, 8, "bow: 0.1", instrument="Caliper 4", calibrated_until=date(2026, 5, 11))
    assert words(sign_in("hand").get(PAGE)).count("Calibration of the instrument had ended") == 1


def test_where_a_point_is_going_and_its_working(sign_in, rim, hand):
    # 0.05 more every 10 parts, measured five times: from 0.05 at 10 to 0.25 at 50, so 0.5 is reached at 100.
    for number in range(1, 6):
        used(rim, 60 - number * 10)
        check(rim, 59 - number * 10, f"bow @ 0: {number * 5 / 100:.2f}; stern @ 900: 0")
    said = words(sign_in("hand").get(PAGE))
    assert "bow : at its tolerance after about 100 parts, hardly before 100 (90 %, if it goes on" in said
    assert "stern : no trend that shows." in said
    # Ten readings of mean (0.05 + ... + 0.25)/10 = 0.075.
    assert "10 readings. Mean +0.08 mm" in said
    assert "Fewer than 25 readings: hardly more than a guess (the program’s own number)." in said
    assert "6.1.6. It wants about 50 readings that are independent" in said
    assert "in the tolerance “bow” drifts: the indices below do not hold while it does. 10 readings" in said
    assert re.search(r"Cpk = from the mean to the nearer limit by 3 standard deviations = 1\.\d\d", said)


def test_what_stands_still_is_not_said_to_drift(sign_in, rim):
    for number in range(1, 6):
        used(rim, 60 - number * 10)
        check(rim, 59 - number * 10, f"bow: {(-1) ** number / 10}")
    said = words(sign_in("reader").get(PAGE))
    assert "How the readings lie in the tolerance 5 readings." in said


def test_what_nobody_looked_at_does_not_count(sign_in, rim):
    check(rim, 9, "bow: in; stern; keel; port")
    check(rim, 8, "bow: in; stern; keel: out; port", passed=False)
    said = words(sign_in("reader").get(PAGE))
    assert "Failed: 2 of 4 points looked at, 1 out." in said
    assert "Passed: 1 of 4 points looked at, none out." in said


def test_one_reading_is_too_few_for_either(sign_in, rim):
    check(rim, 9, "bow: 0.1")
    said = words(sign_in("reader").get(PAGE))
    assert "bow : too few checks to tell where it is going; five are needed. 1 reading" in said
    assert "It takes two readings at least" in said


def test_what_an_older_database_holds_is_shown_as_it_stands(sign_in, rim):
    said = {"passed": True, "points": "bow @@ 12"}
    Entry.objects.create(tool=rim, number=1, kind="check", at=ago(hours=9), recorded_at=ago(hours=9), payload=said)
    assert "Found: bow @@ 12." in words(sign_in("reader").get(PAGE))


def test_only_trim_masks_have_it_and_a_void_check_is_gone(sign_in, rim):
    wrong = check(rim, 9, "bow: 0.1")
    of_tools.void(wrong, reason="another part", at=ago(hours=1), by=None, recorded_by=None)
    client = sign_in("reader")
    assert "Nobody has checked" in words(client.get(PAGE))
    assert client.get("/tools/rim/checks/").url == PAGE
    mold("DECK", None, pulls=None)
    assert client.get("/tools/DECK/checks/").status_code == 404


def test_it_asks_as_much_for_many_checks_as_for_one(sign_in, rim, django_assert_num_queries):
    client = sign_in("reader")
    check(rim, 300, "bow: 0.1")
    client.get(PAGE)
    for number in range(12):
        used(rim, 200 - number)
        check(rim, 199 - number, "bow: 0.1")
    with django_assert_num_queries(11):
        client.get(PAGE)


@pytest.mark.both
def test_what_was_measured_before_it_was_mended_does_not_count(sign_in, rim, hand):
    for number in range(4):
        used(rim, 60 - number * 10)
        check(rim, 59 - number * 10, f"bow @ 0: -0.{number}", limit="0.3")
    check(rim, 20, "bow @ 0: -0.32", limit="0.3", passed=False)
    client = sign_in("reader")
    assert "bow : is past its tolerance. 5 readings" in words(client.get(PAGE))
    check(rim, 15, "bow @ 0: -0.02", limit="0.3")
    of_tools.inspect(rim, passed=True, at=ago(hours=14), by=hand, recorded_by=hand)
    used(rim, 13)
    check(rim, 12, "bow @ 0: 0", limit="0.3")
    said = words(client.get(PAGE))
    assert "50 parts cut so far. By the checks since that of yesterday 11:40, which failed" in said
    assert "bow : too few checks to tell where it is going; five are needed. 2 readings" in said
    assert "2 readings. Mean −0.01 mm" in said
    assert "After 40 parts." in said


def test_a_failed_check_that_nobody_freed_it_after_ends_nothing(rim, hand):
    check(rim, 30, "bow @ 0: 0.6", passed=False)
    of_tools.inspect(rim, passed=False, at=ago(hours=29), by=hand, recorded_by=hand)
    check(rim, 12, "bow @ 0: 0.1; stern @ 9: 0.2")
    series = edge_checks(rim, ago(hours=0), UTC).series
    assert (series.begins, series.capability.count, series.mixed) == (None, 3, True)
    assert "The readings of all points are taken as one" in said_of.working(series, "metric")[-1]


@pytest.mark.both
def test_many_checks_stand_on_pages_and_each_knows_the_parts_before_it(sign_in, rim):
    first = check(rim, 99, "bow: 0.1", limit="")
    for number in range(LISTED + 5):
        used(rim, 90 - number, count=2)
        check(rim, 90 - number, limit="")
    client = sign_in("reader")
    page = client.get(PAGE)
    assert page.text.split('id="c-all"')[1].count("<p><b>Passed") == LISTED
    assert "Page 1 of 2" in words(page)
    assert f"After {2 * (LISTED + 5)} parts." in words(page)
    further = client.get(PAGE, {"page": 2, "check": first.number})
    assert f"All {LISTED + 6} checks" in words(further)
    assert "Before the first part." in words(further)
    assert f"?page=2&amp;check={first.number}" in further.text
    assert edge_checks(rim, ago(hours=0), UTC, number=first.number).since == LISTED + 5


def test_no_more_checks_than_some_are_read(rim, monkeypatch):
    monkeypatch.setattr(selector, "SERIES", 3)
    for number in range(5):
        check(rim, 50 - number, f"bow @ 0: 0.{number}")
    series = edge_checks(rim, ago(hours=0), UTC).series
    assert (series.drifts[0].readings, series.most) == (3, 3)
    assert said_of.taken(series, ago(hours=0), UTC) == "By the newest 3 checks."
