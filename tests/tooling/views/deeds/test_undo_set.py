"""What one form wrote on two halves is taken back on both, unless somebody says otherwise."""

from uuid import uuid4

import pytest

from tests.tooling.views.deeds.conftest import happened
from tooling.models import Entry, Kind, Person, Summary, Tool
from tooling.services import deeds
from tooling.services.tools import add_tool
from tooling.services.whole_check import findings

pytestmark = [pytest.mark.django_db, pytest.mark.both]


@pytest.fixture
def off(client, lead, shop):
    """A part that is off both halves, and a lead. Returns both pulls."""
    client.force_login(lead)
    Tool.objects.filter(pk=shop.mold.pk).update(matched_set="Deck")
    shop.mold.refresh_from_db()
    recipe = {"release_system": shop.wax, "matched_set": "Deck"}
    other = add_tool(code="DECK-2C", name="Other half", kind=Kind.MOLD, **recipe)
    happened.log_coat(other)
    pair = [shop.mold, other]
    nobody = {"by": None, "recorded_by": None}
    lay_ups = deeds.lay_up_set(pair, part="SK520-DECK", serial="0173", **nobody)
    halves = [(one, lay_up.pk) for one, lay_up in zip(pair, lay_ups, strict=True)]
    return deeds.take_off_set(halves, came_off="free", part="SK520-DECK", serial="0173", token=uuid4(), **nobody)


def take_back(client, page, of, **said):
    """Looks at the page, sees what it would do, and sends it."""
    address = f"/tools/{of.tool.code}/entries/{of.number}/{page}/"
    said = {"token": str(uuid4()), "by": Person.objects.get(role="lead").pk, **said}
    shown = client.post(address, said).context["form"].would
    return shown, client.post(address, {**said, "shown": shown.key})


def in_mold():
    return sorted(
        Summary.objects.filter(tool__matched_set="Deck").exclude(laid_up_at=None).values_list("tool__code", flat=True)
    )


def test_the_page_names_both_and_both_are_void(client, off):
    page = client.get(f"/tools/DECK-2A/entries/{off[0].number}/void/")
    assert "also on DECK-2C" in page.text
    assert page.context["form"]["also"].value() == [str(off[1].tool_id)]
    assert {one.tool.code for one in page.context["form"].would.changes} >= {"DECK-2A", "DECK-2C"}
    shown, answer = take_back(client, "void", off[0], because="twice", also=[off[1].tool_id])
    assert answer.status_code == 302
    assert {one.tool.code for one in shown.changes} >= {"DECK-2A", "DECK-2C"}
    assert in_mold() == ["DECK-2A", "DECK-2C"]
    assert "On DECK-2C as well." in client.get("/tools/DECK-2A/").text
    assert not list(findings())


def test_only_this_half_where_that_is_said(client, off):
    take_back(client, "void", off[1], because="twice")
    assert in_mold() == ["DECK-2C"]
    assert "also on" not in client.get(f"/tools/DECK-2C/entries/{off[1].number}/void/").text


def test_another_serial_is_another_one_on_both_and_a_mark_is_one_halfs_own(client, off, lead):
    said = {"because": "tapped", "also": [off[1].tool_id], "count": 1, "part": "SK520-DECK", "by": ""}
    said["when"] = client.get(f"/tools/DECK-2A/entries/{off[0].number}/correct/").context["form"]["when"].value()
    _shown, answer = take_back(client, "correct", off[0], **said, came_off="tight", serial="0174")
    assert answer.status_code == 302
    pulls = Entry.objects.filter(kind="pull").standing().order_by("tool_id")
    assert [(one.serial, one.came_off) for one in pulls] == [("0174", "tight"), ("0174", "")]
    again = deeds.written_with(pulls[0])
    _shown, answer = take_back(client, "correct", pulls[0], **said, came_off="free", serial="0174")
    assert answer.status_code == 302
    assert deeds.written_with(Entry.objects.get(replaces=pulls[0])) == again


def test_a_form_that_was_sent_twice_takes_back_once(off, lead):
    token = uuid4()
    said = {"others": [off[1]], "reason": "twice", "by": lead, "recorded_by": lead, "token": token}
    assert deeds.void_set(off[0], **said) == deeds.void_set(off[0], **said)
    assert Entry.objects.filter(kind="void").count() == 2
