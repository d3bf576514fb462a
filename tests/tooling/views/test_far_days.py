"""A tool that waits for a far day, and a wanted time that is far: every page says so, and none is slow or fails."""

from datetime import date

import pytest

from tests.tooling.views.works import NOW, ago, mold
from tooling.models import Part, PartRevision, SetLine, Shop, Tool
from tooling.selectors.set_sheet import set_sheet_of
from tooling.services import wanted

pytestmark = pytest.mark.django_db
PAGE = "/parts/WING/"
FAR = "WING4 is not ready within 400 days"


@pytest.fixture
def wing(morning, lead):
    """A part that is wanted, and its mold."""
    Shop.objects.update(week="Mon-Fri 07:00-17:00", hands=2)
    revision = PartRevision.objects.create(part=Part.objects.create(number="WING"), name="Wing")
    tool = mold("WING4", morning, pulls=9)
    SetLine.objects.create(revision=revision, role="mold", tool=tool)
    wanted.want(revision.part, by=lead, at=ago(hours=1), count=2)
    return tool


@pytest.mark.parametrize("day", [date(2036, 1, 1), date(9999, 12, 31)])
def test_a_mold_that_waits_for_a_far_day_costs_no_page(sign_in, wing, day):
    Tool.objects.update(not_before=day)
    client = sign_in("hand")
    replies = {address: client.get(address) for address in (PAGE, "/", "/wanted/", "/tools/WING4/")}
    assert {reply.status_code for reply in replies.values()} == {200}
    assert FAR in replies[PAGE].text
    assert FAR in set_sheet_of(PartRevision.objects.get(), NOW).found.cannot.text


@pytest.mark.parametrize("at", ["2036-01-02T08:00", "2199-12-31T23:59"])
def test_nothing_is_worked_out_for_a_far_time(sign_in, wing, at):
    reply = sign_in("hand").get(PAGE, {"wanted": at})
    assert f"{at[:4]} {at[-5:]} is more than 400 days ahead: choose an earlier time." in reply.text


def test_what_is_far_and_still_worked_out_stands_in_the_table_alone(sign_in, wing):
    client = sign_in("hand")
    assert 'class="timebar"' in client.get(PAGE).text
    Tool.objects.update(not_before=date(2027, 1, 15))
    reply = client.get(PAGE)
    assert "15 January 2027" in reply.text
    assert 'class="timebar"' not in reply.text
