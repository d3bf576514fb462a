"""Repairs: the defects that they close, how and with what, what was measured after them, and their pictures."""

from decimal import Decimal
from uuid import uuid4

import pytest

from tests.tooling.pictures import sent
from tests.tooling.views.deeds.conftest import errors, happened
from tooling.calc.defect_lines import DefectLine, write_defects
from tooling.models import Entry, Picture, Summary
from tooling.services.recheck import differences
from tooling.services.tools import rules

pytestmark = pytest.mark.django_db
MEASURED = {"m_quantity": "gloss", "m_geometry_gloss": "60°", "m_spot_1": "keel", "m_value_1": "88"}


@pytest.fixture(autouse=True)
def signed_in(client, hand, shop):
    client.force_login(hand)


@pytest.fixture
def two_open(shop):
    found = [DefectLine(1, "found", "crack", Decimal(12), place="flange"), DefectLine(2, "found", "dull")]
    happened.take_note(shop.mold, defects=write_defects(found))


def closes(client, name):
    return client.get(f"/tools/DECK-2A/{name}").context["form"]["closes"].value()


def test_a_repair_closes_defects_and_is_measured_in_the_same_deed(client, send, shop, two_open):
    token = uuid4()
    typed = {"closes": ["1"], "method": "filled", "material": "polyester filler", "lot": "G-2", "stands": "60"}
    for _twice in range(2):
        assert send("repair", token=token, area="spot", **typed, **MEASURED).status_code == 302
    repair, reading = Entry.objects.order_by("-pk")[:2][::-1]
    said = {"method": "filled", "material": "polyester filler", "lot": "G-2", "defects": "1 closed", "value": "60"}
    assert (repair.kind, repair.payload.items() >= said.items()) == ("repair", True)
    assert (reading.payload["value"], reading.at, reading.kind) == ("88", repair.at, "reading")
    assert Summary.objects.get(tool=shop.mold).open_defects == 1
    page = client.get("/tools/DECK-2A/").text
    for words in ("Defect 1 is mended.", "From now on the tool may get 60 °C at most", "Filled.", "polyester filler"):
        assert words in page
    story = client.get("/tools/DECK-2A/defects/1/").text
    for words in ("filled", "polyester filler", "Lot G-2.", "The filler stands 60 °C.", "Gloss 60° at keel: 88 GU"):
        assert words in story
    assert not list(differences(rules()))


def test_rubbing_it_out_takes_back_all_of_it(client, send, shop, two_open):
    send("repair", closes=["1"], method="filled", **MEASURED)
    written = client.get("/tools/DECK-2A/").context["written"]
    assert (written.entry.kind, written.told.more[-1]) == ("repair", "Gloss 60° at keel: 88 GU.")
    send("rub_out", number=written.entry.number)
    assert Entry.objects.filter(tool=shop.mold, kind__in=("repair", "reading")).standing().count() == 0
    assert Summary.objects.get(tool=shop.mold).open_defects == 2


def test_what_is_measured_amiss_writes_nothing_and_keeps_the_rest(send, two_open):
    before = Entry.objects.count()
    answer = send("repair", closes=["1"], material="gel", m_quantity="gloss", m_value_1="88")
    assert list(errors(answer)) == ["m_geometry_gloss"]
    assert ('value="gel"' in answer.text, Entry.objects.count()) == (True, before)


def test_a_defect_that_was_closed_meanwhile_is_refused(send, shop, two_open):
    happened.repair(shop.mold, defects="1 closed")
    (says,) = errors(send("repair", closes=["1", "2"], note="gel"))["closes"]
    assert (says.startswith("Defect 1 was mended on "), says.endswith("Say first that it came back, if it did.")) == (
        True, True,
    )  # fmt: skip


def test_what_such_work_mends_is_proposed(client, shop, two_open):
    assert closes(client, "repair/") == []
    assert closes(client, "repair/?defect=2") == [2]
    assert closes(client, "resurfaced/") == [2]
    happened.repair(shop.mold, defects="1 closed")
    assert (closes(client, "repair/"), closes(client, "polish/")) == ([2], [2])


def test_a_defect_that_is_ticked_is_mended_at_a_spot(client, send, shop, two_open):
    def area(address):
        return client.get(f"/tools/DECK-2A/{address}").context["form"]["area"].value()

    assert (area("repair/"), area("repair/?defect=2"), area("polish/?defect=2")) == (None, "spot", "spot")
    send("repair", closes=["1"], method="filled")
    assert (Entry.objects.get(kind="repair").area, area("repair/")) == ("spot", "spot")


def test_nothing_of_a_repair_goes_without_saying_and_the_whole_surface_is_asked_about(send, shop):
    assert set(errors(send("repair"))) == {"area", "method"}
    assert set(errors(send("polish"))) == {"area"}
    asked = send("repair", area="whole", method="re_gelled")
    assert (list(errors(asked)), "bare then" in asked.text, Entry.objects.filter(kind="repair").count()) == (
        ["anyway"], True, 0,
    )  # fmt: skip
    send("repair", area="whole", method="re_gelled", anyway=asked.context["form"].asks)
    assert Entry.objects.get(kind="repair").area == "whole"


def test_a_filler_that_stands_little_is_asked_about_and_said_as_typed(client, send, shop):
    typed = {"area": "spot", "stands": "70 F"}
    asked = send("repair", **typed)
    assert "stands 70 °F only" in errors(asked)["anyway"][0]
    send("repair", **typed, anyway=asked.context["form"].asks)
    page = client.get("/tools/DECK-2A/").text
    assert ("21.1 °C (70 °F)" in page, "21.11" in page) == (True, False)


def test_its_pictures_show_the_defect_before_and_after(client, send, two_open, settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path
    answer = send("repair", closes=["2"], method="filled", before=[sent(1)], pictures=[sent(2)])
    entry = Entry.objects.get(kind="repair")
    assert answer.url == f"/tools/DECK-2A/entries/{entry.number}/pictures/"
    pictures = Picture.objects.filter(entry=entry, defect__number=2).order_by("pk")
    assert [one.caption for one in pictures] == ["before", "after"]


def test_a_polish_and_a_new_surface_say_with_what(client, send):
    send("polish", area="flange", material="compound 3", lot="C-1")
    send("resurfaced", material="tooling gel coat", lot="T-9")
    page = client.get("/tools/DECK-2A/").text
    assert ("Material: compound 3." in page, "Material: tooling gel coat." in page, "Lot T-9." in page) == (True,) * 3
