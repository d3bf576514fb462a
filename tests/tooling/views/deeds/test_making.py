"""A tool that is built comes to its next step with one tap; work at a step is written without going on."""

from decimal import Decimal
from uuid import uuid4

import pytest

from tests.tooling.pictures import sent
from tests.tooling.views.deeds.conftest import errors, happened
from tooling.models import Entry, Kind, Picture, Summary, Tool
from tooling.services.making_steps import Step, add_starter, set_steps
from tooling.services.tools import add_tool

pytestmark = [pytest.mark.django_db, pytest.mark.both]


@pytest.fixture
def plug(client, hand, shop):
    client.force_login(hand)
    set_steps("plug", [Step("Roughed"), Step("Filled", note="two coats"), Step("Waxed", "coat")])
    return add_tool(code="P-1", kind=Kind.PLUG, name="Plug", release_system=shop.wax, in_making=True)


def step_of(plug):
    return Summary.objects.get(tool=plug).step


def test_the_next_step_is_one_tap_and_twice_is_once(client, send, plug, hand):
    assert "Next: Roughed" in client.get("/tools/p-1/step/").text
    token = uuid4()
    for _twice in range(2):
        assert send("make_step", "P-1", token=token, step="Roughed").url == "/tools/P-1/"
    entry = Entry.objects.get(kind="making")
    assert (entry.payload["step"], entry.by, "count" in entry.payload) == ("Roughed", hand, False)
    page = client.get("/tools/P-1/step/").text
    assert "Next: Filled" in page
    assert "two coats" in page
    assert send("make_step", "P-1", token=token, step="Filled").status_code == 409


def test_another_step_a_step_back_and_words_of_ones_own(send, plug):
    for typed, stands in (
        ({"other": "Filled"}, "Filled"), ({"other": "Roughed"}, "Roughed"), ({"own": " Dried  twice "}, "Dried twice")
    ):  # fmt: skip
        assert send("make_step", "P-1", step="", **typed).status_code == 302
        assert step_of(plug) == stands


def test_what_cannot_be_sent_is_said_and_kept(send, plug):
    answer = send("make_step", "P-1", step="", note="by two", material="filler", value="2")
    assert errors(answer) == {"own": ["Which step is it at now? Tap one, or write it."]}
    assert 'value="filler"' in answer.text
    assert "by two" in answer.text
    said = errors(send("make_step", "P-1", step="Roughed", material="filler", value="2"))
    assert said == {"unit": ["Say in which unit: kg, l or sheets."]}
    assert "deed of its own" in errors(send("make_step", "P-1", own="waxed"))["own"][0]
    assert list(errors(send("make_step", "P-1", step="x" * 81))) == ["step"]
    assert not Entry.objects.filter(tool=plug).exists()


def test_a_step_that_is_another_entry_leads_to_its_page_and_is_done_by_it(client, plug, lead):
    happened.make_step(plug, step="Filled")
    page = client.get("/tools/P-1/step/").text
    assert 'href="/tools/P-1/coat/">Next: Waxed' in page
    happened.log_coat(plug)
    assert "All steps are done. A lead accepts it." in client.get("/tools/P-1/step/").text
    client.force_login(lead)
    assert 'href="/tools/P-1/accepted/">Accept it' in client.get("/tools/P-1/step/").text


def test_a_mold_is_laid_up_on_its_plug_and_without_one_it_is_a_plain_step(client, send, plug):
    add_starter("mold")
    mold = add_tool(code="M-1", kind=Kind.MOLD, name="Mold", made_from=plug, in_making=True)
    assert 'href="/tools/P-1/lay-up/?part=M-1"' in client.get("/tools/M-1/step/").text
    Tool.objects.filter(pk=mold.pk).update(made_from=None)
    assert send("make_step", "M-1", step="Laid up on the plug").status_code == 302
    assert step_of(mold) == "Laid up on the plug"


def test_it_comes_off_its_plug_by_that_deed(client, plug):
    add_starter("mold")
    mold = add_tool(code="M-1", kind=Kind.MOLD, name="Mold", made_from=plug, in_making=True)
    happened.make_step(mold, step="Framed")
    assert 'href="/tools/P-1/take-off/?which=M-1"' in client.get("/tools/M-1/step/").text


def test_a_lead_corrects_what_was_done(client, send, plug, lead):
    entry = happened.make_step(plug, step="Roughd", work="skin", count=2, material="resin", value=Decimal(4), unit="kg")
    client.force_login(lead)
    stands = {"step": "Roughd", "work": "skin", "count": "2", "material": "resin", "value": "4", "unit": "kg"}
    typed = {**stands, "when": f"{entry.at:%Y-%m-%dT%H:%M}", "why": "typed wrong", "by": ""}
    assert errors(send("correct", "P-1", number=entry.number, **{**typed, "unit": ""}))["unit"]
    assert (
        send("correct", "P-1", number=entry.number, **{**typed, "step": "Roughed", "value": "4,5"}).status_code == 302
    )
    assert step_of(plug) == "Roughed"
    assert Entry.objects.last().payload["value"] == "4.5"


def test_work_stays_at_the_step_and_says_what_it_took(client, send, plug):
    happened.make_step(plug, step="Roughed")
    since = Summary.objects.get(tool=plug).step_at
    assert "It stays at its step: Roughed." in client.get("/tools/P-1/work/").text
    assert list(errors(send("make_work", "P-1", step="Roughed"))) == ["work"]
    facts = {"work": "filler", "count": "2", "material": "light filler", "value": "1,5", "unit": "kg", "minutes": "90"}
    assert send("make_work", "P-1", step="Roughed", lot="F-7", **facts).url == "/tools/P-1/"
    said = Entry.objects.last()
    assert {**said.payload, "asked": ""} == {
        "step": "Roughed", "work": "filler", "material": "light filler", "value": "1.5", "unit": "kg",
        "minutes": "90", "lot": "F-7", "asked": "",
    }  # fmt: skip
    assert (said.count, Summary.objects.get(tool=plug).step_at) == (2, since)
    assert "Filler, 2 coats. 1.5 kg of light filler." in client.get("/tools/P-1/").text


def test_a_picture_goes_with_a_step(send, plug, settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path
    answer = send("make_step", "P-1", step="Roughed", pictures=sent())
    assert answer.status_code == 302
    assert Picture.objects.get().entry == Entry.objects.get(kind="making")


def test_a_tool_in_use_goes_back_by_a_lead_alone_and_a_retired_one_does_not(client, send, plug, shop, lead):
    assert "Only a lead takes it back" in send("make_step", "DECK-2A", step="Roughed").text
    client.force_login(lead)
    assert list(errors(send("make_step", "DECK-2A", own="Cut anew", by=lead.pk))) == ["again"]
    assert send("make_step", "DECK-2A", own="Cut anew", again="on", by=lead.pk).status_code == 302
    assert Summary.objects.get(tool=shop.mold).making
    happened.retire(plug, reason="broken")
    assert "It is retired" in send("make_work", "P-1", work="filler", by=lead.pk).text
    assert not Entry.objects.filter(tool=plug, kind="making").exists()


def test_a_station_asks_whose_hands_and_keeps_the_step(client, send, station, hand, plug):
    client.force_login(station)
    assert errors(send("make_step", "P-1", step="Roughed")) == {"by": ["Whose hands were it?"]}
    assert send("make_step", "P-1", step="Roughed", by=hand.pk).status_code == 302
    assert (Entry.objects.last().by, Entry.objects.last().recorded_by) == (hand, station)


def test_a_late_step_is_shown_first_and_rubbed_out_it_is_gone(client, send, plug):
    assert send("make_step", "P-1", step="Filled").status_code == 302
    entry = Entry.objects.last()
    client.post(f"/tools/P-1/entries/{entry.number}/rub-out/", {"token": str(uuid4())})
    assert step_of(plug) == ""
    assert send("make_step", "P-1", step="Roughed", at="yesterday", at_time="07:00").status_code == 302
    assert step_of(plug) == "Roughed"


def test_the_caution_is_that_of_the_work_at_hand(client, plug):
    page = client.get("/tools/P-1/step/").text
    assert page.index("no gloves at a turning cutter") < page.index("<form method")
    assert page.count("Hardener with isocyanate") == 1
    happened.make_step(plug, step="Roughed", work="frame")
    first = client.get("/tools/P-1/step/").context["cautions"]
    assert [one.about for one in first] == ["making_filler", "making_machining", "making_frame"]
    own = client.post("/tools/P-1/work/", {"token": str(uuid4()), "work": "primer", "minutes": "soon"})
    assert own.context["cautions"][0].about == "making_primer"


def test_what_a_step_waits_for_is_said_where_it_is_taken(client, plug):
    add_starter("mold")
    add_tool(code="M-1", kind=Kind.MOLD, name="Mold", made_from=plug, in_making=True)
    page = client.get("/tools/M-1/step/").text
    assert "Waits for P-1, which is in the making." in page
    assert "Cutter: no gloves" in page
