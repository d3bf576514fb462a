"""When a trim mask wants a check: counted from its last check, in one query for many."""

from datetime import date

import pytest

from shared.clock import now
from tests.tooling.views.works import NOW, ago, mold
from tooling.models import Kind, Shop, Tool
from tooling.selectors.containment.doubts import doubt_of
from tooling.selectors.containment.made_since import made_since
from tooling.services import deeds as of_tools
from tooling.services.ledger import record
from trimfixtures.models import Mask
from trimfixtures.selectors.checks import Checked, LastCheck, checked
from trimfixtures.selectors.since_check import since_check
from trimfixtures.services import deeds

pytestmark = pytest.mark.django_db


@pytest.fixture
def mask(db):
    Shop.objects.create(name="Saltbatch Boatworks", time_zone="Europe/Lisbon")
    tool = mold("TRIM", None, kind=Kind.TRIM_MASK, pulls=None)
    Mask.objects.create(tool=tool, check_every=10)
    return tool


def used(tool, hours, count=1, outcome=""):
    return deeds.log_use(tool, count=count, outcome=outcome, at=ago(hours=hours), by=None, recorded_by=None)


def check(tool, hours, *, passed, **said):
    return deeds.log_check(tool, passed=passed, at=ago(hours=hours), by=None, recorded_by=None, **said)


def looked(tool, hours, *, passed=True):
    of_tools.inspect(tool, passed=passed, at=ago(hours=hours), by=None, recorded_by=None)


def of(tool, at=NOW):
    return checked([tool], at)[tool.pk]


def test_parts_count_from_the_last_check_of_that_moment(mask):
    assert of(mask) == Checked(0, 10, None, False, "never")
    used(mask, 30, count=4)
    first = check(mask, 20, passed=True, instrument="Caliper", calibrated_until=date(2026, 5, 1))
    wrong = used(mask, 19, count=5)
    used(mask, 18, count=6)
    last = LastCheck(first.pk, first.at, True, "Caliper", date(2026, 5, 1))
    assert of(mask) == Checked(11, -1, last, False, "count")
    assert of(mask, ago(hours=19)) == Checked(5, 5, last, False, "")
    assert of(mask, ago(hours=25)) == Checked(4, 6, None, False, "never")
    of_tools.void(wrong, reason="of another", at=now(), by=None, recorded_by=None)
    assert (of(mask).uses_since, of(mask).left, of(mask).soon) == (6, 4, False)


def test_a_cut_that_says_no_number_is_of_one_part(mask):
    record(mask, "used", at=ago(hours=2), by=None, recorded_by=None)
    assert of(mask).uses_since == 1


@pytest.mark.parametrize("outcome", ["gouged", "slipped", "off_size"])
def test_what_went_wrong_is_checked_whatever_is_counted(mask, outcome):
    Mask.objects.update(check_every=None)
    assert of(mask) == Checked(0, None, None, False, "")
    used(mask, 9, outcome=outcome)
    looked(mask, 8)
    assert (of(mask).wanted, of(mask).left, of(mask).soon) == (outcome, None, True)
    check(mask, 7, passed=True)
    assert (of(mask).wanted, of(mask).uses_since) == ("", 0)


def test_a_failed_check_stands_until_one_passes_or_somebody_lets_it_go(mask):
    check(mask, 9, passed=False)
    looked(mask, 8, passed=False)
    assert (of(mask).failed, of(mask).wanted) == (True, "failed")
    looked(mask, 7)
    assert (of(mask).failed, of(mask).wanted, of(mask, ago(hours=8)).failed) == (False, "failed", True)
    check(mask, 6, passed=True)
    assert (of(mask).failed, of(mask).wanted) == (False, "")


def test_at_one_instant_what_was_recorded_after_the_check_is_behind_it(mask):
    used(mask, 12, count=4)
    check(mask, 12, passed=True)
    assert (of(mask).uses_since, of(mask).wanted) == (0, "")
    used(mask, 12, count=2, outcome="gouged")
    assert (of(mask).uses_since, of(mask).wanted) == (2, "gouged")
    assert since_check(mask, NOW).count == 2
    looked(mask, 6)
    check(mask, 6, passed=False)
    assert of(mask).failed
    looked(mask, 6)
    assert (of(mask).failed, of(mask).wanted) == (False, "failed")


def test_the_parts_in_doubt_are_the_same_wherever_they_are_asked_for(mask):
    """By the check that failed, and on the page where it is looked at; a look-over of the tool clears no cut edge."""
    used(mask, 30, count=4)
    check(mask, 24, passed=True)
    used(mask, 20, count=2)
    looked(mask, 12)
    used(mask, 8)
    failed = check(mask, 6, passed=False)
    used(mask, 4)
    doubt = doubt_of(mask.code, failed.number)
    assert made_since(doubt, NOW).count == since_check(mask, NOW).count == 4
    check(mask, 2, passed=True)
    used(mask, 1)
    assert (made_since(doubt, NOW).count, since_check(mask, NOW).count) == (4, 1)


def test_one_query_for_many_and_none_without_a_trim_mask(mask, django_assert_num_queries):
    others = [mold(f"TRIM-{n}", None, kind=Kind.TRIM_MASK, pulls=None) for n in range(4)]
    with django_assert_num_queries(1):
        found = checked([mask, *others], NOW)
    assert found[others[0].pk] == Checked(0, None, None, False, "")
    with django_assert_num_queries(0):
        assert checked([Tool(pk=999, code="DECK", kind=Kind.MOLD)], NOW) == {}
