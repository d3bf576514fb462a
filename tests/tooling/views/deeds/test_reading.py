"""What was measured: several spots in one go, what belongs to each quantity, and what is refused."""

from datetime import date
from decimal import Decimal
from uuid import uuid4

import pytest

from shared.units import US
from tests.tooling.views.deeds.conftest import errors, happened
from tooling.models import Entry
from tooling.services import deeds

pytestmark = pytest.mark.django_db
GLOSS = {"quantity": "gloss", "geometry_gloss": "60°", "standard_gloss": "ISO 2813"}


@pytest.fixture(autouse=True)
def signed_in(client, hand, shop):
    client.force_login(hand)


def readings():
    return list(Entry.objects.filter(kind="reading").order_by("pk"))


def test_several_spots_are_an_entry_each_of_one_moment_and_twice_is_harmless(client, send):
    rows = {"spot_1": "keel", "value_1": "84.2", "spot_2": "bow", "value_2": "79", "spot_3": "stern"}
    token = uuid4()
    for _twice in range(2):
        assert send("reading", token=token, **GLOSS, **rows, note="after the wash").status_code == 302
    first, second = readings()
    about = {"quantity": "gloss", "unit": "GU", "geometry": "60°", "standard": "ISO 2813"}
    assert first.payload.items() >= {**about, "spot": "keel", "value": "84.2", "note": "after the wash"}.items()
    assert second.payload.items() >= {**about, "spot": "bow", "value": "79"}.items()
    assert (first.at, "note" in second.payload) == (second.at, False)
    send("reading", **GLOSS, spot_1="stern", value_1="81")
    form = client.get("/tools/DECK-2A/reading/").context["form"]
    assert [form[f"spot_{n}"].value() for n in (1, 2, 3)] == ["stern", "keel", "bow"]
    assert "Gloss 60° at keel: 84.2 GU (ISO 2813)" in client.get("/tools/DECK-2A/").text


@pytest.mark.parametrize(
    ("typed", "field", "says"),
    [
        ({"value_1": "1"}, "quantity", "Say what was measured."),
        ({"quantity": "else", "value_1": "1", "unit": "mm"}, "quantity_typed", "Say what was measured."),
        ({"quantity": "else", "quantity_typed": "draft", "value_1": "1"}, "unit", "Say in which unit."),
        ({"quantity": "hardness", "value_1": "80"}, "unit_hardness", "Say in which unit: Shore D, Barcol."),
        ({"quantity": "hardness", "value_1": "180", "unit_hardness": "Barcol"}, "value_1", "Barcol ends at 100"),
        ({"quantity": "gloss", "value_1": "84"}, "geometry_gloss", "Say which gloss it is: 60°, 20°, 85°."),
        ({**GLOSS, "value_1": "-3"}, "value_1", "A number, 0 or more."),
        ({**GLOSS, "value_2": "1,250"}, "value_2", "can be read in two ways"),
        ({**GLOSS, "spot_1": "keel"}, "value_1", "Write what it read."),
    ],
)
def test_what_says_nothing_is_refused_at_its_field(send, typed, field, says):
    answer = send("reading", **typed)
    assert says in errors(answer)[field][0]
    assert not readings()


def test_a_length_is_asked_in_the_units_of_the_person_and_may_name_another(client, send, hand):
    hand.units = US
    hand.save()
    send("reading", quantity="depth", spot_1="bow", value_1="3/64", spot_2="stern", value_2="1.5 mm")
    assert [(one.payload["value"], one.payload["unit"]) for one in readings()] == [("0.046875", "in"), ("1.5", "mm")]
    page = client.get("/tools/DECK-2A/").text
    assert ("Depth at bow: 3/64 in" in page, "≈ 1/16 in" in page) == (True, True)


def test_a_unit_that_goes_without_saying_may_stand_behind_and_another_may_not(send):
    send("reading", **GLOSS, value_1="85 GU")
    assert [one.payload["value"] for one in readings()] == ["85"]
    (why,) = errors(send("reading", **GLOSS, value_1="90 mm"))["value_1"]
    assert why == "“90 mm” has a unit of its own: write the number alone, its unit stands beside it."


def test_a_number_that_looks_like_a_slip_is_asked_about_once(send):
    typed = {**GLOSS, "value_1": "250", "value_2": "86", "value_3": "31"}
    asked = send("reading", **typed)
    assert [says[:20] for says in errors(asked)["anyway"]] == ["250 GU is more than ", "31 GU is far off the"]
    send("reading", **typed, anyway=asked.context["form"].asks)
    assert len(readings()) == 3


def test_a_dimension_says_of_what(send):
    (why,) = errors(send("reading", quantity="dimension", value_1="12"))["spot_1"]
    assert why.startswith("Say which one, or where")


def test_a_reading_of_something_else_is_named(send):
    else_ = {"quantity": "else", "quantity_typed": "draft", "unit": "°", "instrument": "level 2"}
    send("reading", **else_, value_1="-0.5")
    says = {"quantity": "draft", "value": "-0.5", "unit": "°", "instrument": "level 2"}
    assert readings()[0].payload.items() >= says.items()


def test_what_measured_before_is_offered_and_only_ones_own_that_is_calibrated_is_chosen(client, send, shop, hand, lead):
    about = {"quantity": "gloss", "value": Decimal(80), "unit": "GU", "geometry": "20°"}

    def chosen():
        return client.get("/tools/HATCH7/reading/").context["form"]["meter_gloss"].value()

    deeds.take_reading(shop.insert, **about, instrument="meter 2", by=lead, recorded_by=lead)
    assert chosen() is None
    deeds.take_reading(shop.insert, **about, instrument="meter 1", by=hand, recorded_by=hand)
    assert chosen() == "meter 1"
    over = {"instrument": "meter 3", "calibrated_until": date(2020, 5, 3)}
    deeds.take_reading(shop.insert, **about, **over, by=hand, recorded_by=hand)
    assert chosen() is None


def test_what_measured_before_is_offered_with_its_day_and_flagged_when_that_is_over(client, send, shop):
    about = {"quantity": "gloss", "value": Decimal(80), "unit": "GU", "geometry": "20°", "spot": "keel"}
    happened.take_reading(shop.insert, **about, instrument="meter 1", calibrated_until=date(2020, 5, 3))
    page = client.get("/tools/HATCH7/reading/")
    form = page.context["form"]
    assert [form[name].value() for name in ("quantity", "geometry_gloss", "spot_1")] == ["gloss", "20°", "keel"]
    assert "meter 1, calibration ended on 3 May 2020" in page.text
    send("reading", code="HATCH7", **GLOSS, value_1="77", meter_gloss="meter 1")
    assert readings()[-1].payload["calibrated_until"] == "2020-05-03"
    page = client.get("/tools/HATCH7/").text
    assert "The calibration of meter 1 ended on 3 May 2020. It is written all the same, and flagged." in page
    assert "Its calibration had ended on 3 May 2020." in page
    send("reading", **GLOSS, value_1="77", meter_gloss="meter 1", calibrated_until="2999-01-01")
    assert readings()[-1].payload["calibrated_until"] == "2999-01-01"


def test_the_page_says_that_standards_are_from_memory(client):
    text = client.get("/tools/DECK-2A/reading/").text
    assert text.count("The numbers of standards are from memory") == 3
