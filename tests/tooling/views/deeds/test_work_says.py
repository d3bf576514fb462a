"""Other deeds, one by one: what the page says before it is written, and what it leaves behind."""

from decimal import Decimal
from uuid import uuid4

import pytest

from shared.clock import now
from shared.units import US
from tests.tooling.views.deeds.conftest import errors, happened
from tooling.models import Entry, Kind, RecipeVersion, ReleaseSystem, Summary
from tooling.selectors.inserts import likely
from tooling.selectors.service_limit import service_limit
from tooling.services.tools import add_tool

pytestmark = pytest.mark.django_db


@pytest.fixture
def send(client, send, lead, shop):
    """Sends it as a lead, by whose own hands it was."""
    client.force_login(lead)
    return lambda name, **typed: send(name, **{"by": lead.pk, **typed})


@pytest.fixture(autouse=True)
def signed_in(client, lead, shop):
    client.force_login(lead)


def last():
    return Entry.objects.order_by("pk").last()


def phase(tool):
    return Summary.objects.get(tool=tool).state.get("phase")


def does(client, name, code="DECK-2A"):
    """The line on the page of a deed that says what it does."""
    text = client.get(f"/tools/{code}/{name}/").text
    return " ".join(text.partition('class="says does">')[2].partition("</p>")[0].split())


def test_each_page_says_what_it_does_by_the_numbers_of_the_recipe(client, shop):
    RecipeVersion.objects.update(coats_again=5, coats_new=7, sealer_coats=1, touch_up_coats=2, film_every_pull=True)
    assert "back to bare: one coat of sealer, then five coats before the next part." in does(client, "strip")
    assert "A flange or a spot: two coats before the next part." in does(client, "repair")
    assert "bare and new: one coat of sealer, then seven coats" in does(client, "resurfaced")
    assert "Strip it first, from now on" in does(client, "build-up")
    assert "Failed: two coats before the next part." in does(client, "release-check")
    assert "Wax first, from now on: two coats" in does(client, "coat-wanted")
    assert "Now it is 3 pulls, as its recipe says." in does(client, "interval")
    assert "a film is spoiled" in client.get("/tools/DECK-2A/clean/").text
    happened.strip(shop.mold)
    assert "its state stays" in does(client, "build-up")
    assert "its state stays" in does(client, "coat-wanted")


def test_a_test_that_passed_promises_nothing(client, send, shop):
    text = client.get("/tools/DECK-2A/release-check/").text
    assert "Common practice, no source" in text
    assert "does not say that a part will come off" in text
    send("release_check", using="tape", passed="no")
    assert "Tape or water test: failed" in client.get("/tools/DECK-2A/").text


def test_without_a_recipe_it_is_only_kept(client):
    add_tool(code="PLAIN", name="Plain", kind=Kind.PLUG)
    assert "No release recipe is chosen" in does(client, "strip", "PLAIN")
    assert client.get("/tools/PLAIN/clean/").status_code == 200


@pytest.mark.parametrize(
    ("using", "kind", "phase_then"),
    [("water", "clean", "service"), ("soap", "clean", "service"), ("solvent", "strip", "bare"),
     ("stripper", "strip", "bare"), ("compound", "polish", "bare")],
)  # fmt: skip
def test_with_what_it_was_cleaned_decides_what_is_written(client, send, shop, using, kind, phase_then):
    page = client.get("/tools/DECK-2A/clean/").text
    assert "Written as stripped: it takes the coat off." in page
    assert send("clean", using=using).status_code == 302
    assert (last().kind, last().payload["instrument"]) == (kind, using)
    assert (phase(shop.mold) or "bare") == phase_then
    assert f"With {using}." in client.get("/tools/DECK-2A/").text


def test_the_filler_is_asked_in_the_units_of_the_person_and_limits_the_tool(client, send, shop, lead):
    lead.units = US
    lead.save()
    assert "The filler stands, at most (°F)" in client.get("/tools/DECK-2A/repair/").text
    assert "check the number" in errors(send("repair", stands="3000"))["stands"][0]
    send("repair", stands="140", area="spot")
    assert service_limit(shop.mold, now()).celsius == 60
    page = client.get("/tools/DECK-2A/").text
    assert "The filler stands 140 °F." in page
    send("repair", stands="50 °C", area="spot")
    assert (last().payload["value"], last().payload["unit"]) == ("50", "°C")


def test_an_insert_goes_in_from_either_page_and_never_into_two_molds(client, send, shop):
    other = add_tool(code="DECK-2B", name="Deck", kind=Kind.MOLD, release_system=shop.wax)
    answer = send("installed", code="DECK-2B", which="HATCH7")
    assert "it is in DECK-2A then. Remove it there first." in errors(answer)["which"][0]
    assert "It is in DECK-2A" in client.get("/tools/HATCH7/installed/").text
    send("removed", code="HATCH7", serial="0173")
    assert (last().kind, last().tool, last().serial) == ("removed", shop.insert, "0173")
    answer = send("installed", code="HATCH7", typed="http://shop.example/t/DECK-2B/")
    assert answer.url == "/tools/HATCH7/"
    assert (last().tool, last().mold) == (shop.insert, other)
    assert send("installed", code="DECK-2B", which="DECK-2A").context["form"].errors["which"] == [
        "DECK-2A is no mold insert."
    ]
    assert errors(send("removed", code="DECK-2B"))["which"] == ["Which mold insert?"]


def test_an_insert_that_wants_work_is_asked_about_before_it_goes_in(client, send, shop):
    happened.remove(shop.insert)
    happened.see_build_up(shop.insert)
    assert "on the bench: solvent takes the coats off the mold" in client.get("/tools/HATCH7/installed/").text
    asked = send("installed", code="DECK-2A", which="HATCH7")
    assert errors(asked)["which"] == [
        "HATCH7 wants a strip first, on the bench: solvent takes the coats off DECK-2A as well."
    ]
    assert "Write it all the same" in asked.text
    assert send("installed", code="DECK-2A", which="HATCH7", at="earlier", at_time="00:00").status_code == 302
    happened.remove(shop.insert)
    sure = asked.context["form"].asked[0].key
    assert send("installed", code="DECK-2A", which="HATCH7", sure=sure).status_code == 302
    happened.remove(shop.insert)
    happened.strip(shop.insert)
    assert errors(send("installed", code="HATCH7", typed="DECK-2A"))["typed"] == [
        "HATCH7 wants coats first, on the bench."
    ]
    happened.log_coat(shop.insert)
    happened.see_build_up(shop.mold)
    assert "DECK-2A wants a strip first, without HATCH7" in errors(send("installed", which="HATCH7"))["which"][0]


def test_the_likely_ones_come_first(shop):
    plug = add_tool(code="PLUG", name="Plug", kind=Kind.PLUG)
    other = add_tool(code="DECK-1", name="Deck", kind=Kind.MOLD, made_from=plug)
    rim = add_tool(code="RIM", name="Rim", kind=Kind.INSERT, made_from=plug)
    gone = add_tool(code="RIM-OLD", name="Rim", kind=Kind.INSERT, made_from=plug)
    happened.retire(gone)
    add_tool(code="FAR", name="Far", kind=Kind.INSERT)
    happened.remove(shop.insert)
    happened.install(shop.insert, mold=other)
    happened.remove(shop.insert)
    assert [tool.code for tool in likely(other)] == ["HATCH7", "RIM"]
    assert [tool.code for tool in likely(rim)] == ["DECK-1"]
    shop.insert.refresh_from_db()
    assert [tool.code for tool in likely(shop.insert)] == ["DECK-1", "DECK-2A"]


def test_a_number_of_its_own_and_the_recipes_again(send, shop):
    send("interval", count="2")
    assert Summary.objects.get(tool=shop.mold).state["own_n"] == 2
    send("interval")
    assert "own_n" not in Summary.objects.get(tool=shop.mold).state


@pytest.fixture
def another_recipe(client, lead):
    """What is answered to the form as it stands."""

    def post(code, **typed):
        given = {"token": uuid4(), "at": "now", "by": lead.pk, "release_system": "SEMI", **typed}
        return client.post(f"/tools/{code}/release-system/", given)

    return post


@pytest.fixture
def semi(shop):
    semi = ReleaseSystem.objects.get(code="SEMI")
    return RecipeVersion.objects.create(system=semi, name="Semi", family="semi_permanent")


def test_another_recipe_is_written_when_what_it_does_was_seen(another_recipe, send, semi):
    token, before = uuid4(), Entry.objects.count()
    shown = another_recipe("DECK-2A", token=token)
    assert (shown.status_code, Entry.objects.count()) == (200, before)
    (change,) = shown.context["form"].would.changes
    assert (change.now.startswith("Ready"), "Strip" in change.then) == (True, True)
    key = shown.context["form"].would.key
    for _twice in range(2):
        assert another_recipe("DECK-2A", token=token, shown=key).status_code == 302
    assert (last().kind, last().release_system, Entry.objects.count()) == ("release_system", "SEMI", before + 1)
    assert errors(send("release_system", release_system="SEMI"))["release_system"] == ["Choose one of the recipes."]


def test_another_recipe_on_a_mold_insert_is_shown_on_the_mold_that_it_sits_in(another_recipe, semi):
    changes = another_recipe("HATCH7").context["form"].would.changes
    assert [one.tool.code for one in changes] == ["HATCH7", "DECK-2A"]
    assert [one.now != one.then for one in changes] == [True, True]


def corrected(client, send, entry, **changed):
    form = client.get(f"/tools/{entry.tool.code}/entries/{entry.number}/correct/").context["form"]
    typed = {name: form[name].value() for name in form.fields if form[name].value() is not None}
    answer = send(
        "correct", code=entry.tool.code, number=entry.number, **{**typed, "by": "", "why": "a slip", **changed}
    )
    return answer, {**last().payload, "mold": last().mold, "serial": last().serial, "count": last().count}


@pytest.mark.parametrize(
    ("deed", "facts", "changed", "then"),
    [
        ("repair", {"stands": Decimal(140), "unit": "°F"}, {"stands": "122"}, {"value": "122", "unit": "°F"}),
        ("clean", {"using": "soap"}, {"using": "water"}, {"instrument": "water"}),
        ("strip", {"using": "solvent"}, {"using": "stripper"}, {"instrument": "stripper"}),
        ("check_release", {"passed": True, "using": "tape"}, {"using": "water"}, {"instrument": "water"}),
        ("set_interval", {"count": 2}, {"count": "4"}, {"count": 4}),
        (
            "take_reading", {"quantity": "gloss", "value": Decimal("87.50"), "unit": "GU", "spot": "keel"},
            {"spot": "bow", "calibrated_until": "2027-01-31"},
            {"value": "87.50", "spot": "bow", "calibrated_until": "2027-01-31"},
        ),
        ("polish", {"material": "paste 3", "using": "compound"}, {"lot": "C-1"}, {"material": "paste 3", "lot": "C-1"}),
    ],
)  # fmt: skip
def test_a_correction_knows_every_fact(client, send, shop, deed, facts, changed, then):
    old = getattr(happened, deed)(shop.mold, **facts)
    same, _facts = corrected(client, send, old)
    assert "Nothing is changed yet" in same.text
    answer, now_said = corrected(client, send, old, **changed)
    assert (answer.status_code, last().replaces) == (302, old)
    assert now_said.items() >= then.items()


def test_a_correction_says_which_defects_a_repair_closed_and_a_reading_keeps_its_unit(client, send, shop):
    happened.take_note(shop.mold, defects="1 found crack, 12 mm\n2 found dull")
    old = happened.repair(shop.mold, defects="1 closed: filled flush", method="filled")
    assert "Nothing is changed yet" in corrected(client, send, old)[0].text
    _answer, facts = corrected(client, send, old, closes=["1", "2"], method="patched")
    assert (facts["defects"], facts["method"]) == ("1 closed: filled flush\n2 closed", "patched")
    assert Summary.objects.get(tool=shop.mold).open_defects == 0
    corrected(client, send, last(), closes=[])
    assert Summary.objects.get(tool=shop.mold).open_defects == 2
    reading = happened.take_reading(shop.mold, quantity="gloss", value=Decimal(80), unit="GU")
    assert "Say in which unit" in errors(corrected(client, send, reading, unit=" ")[0])["unit"][0]


def test_a_correction_of_an_insert_knows_its_mold(client, send, shop):
    other = add_tool(code="DECK-2B", name="Deck", kind=Kind.MOLD, release_system=shop.wax)
    old = Entry.objects.get(kind="installed")
    assert "mold" in corrected(client, send, old, mold="NOBODY")[0].context["form"].errors
    answer, facts = corrected(client, send, old, mold="DECK-2B")
    assert (answer.status_code, facts["mold"]) == (302, other)


def test_a_number_that_is_no_temperature_is_left_alone(client, send, shop):
    old = happened.repair(shop.mold, stands=Decimal(30), unit="min")
    _answer, facts = corrected(client, send, old, lot="G-3")
    assert (facts["value"], facts["unit"], facts["lot"]) == ("30", "min", "G-3")
