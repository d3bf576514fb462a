"""The shop's temperature: what is taken, which counts, and how it is taken back."""

from datetime import timedelta
from decimal import Decimal
from uuid import uuid4

import pytest
import time_machine

from shared.errors import Refused, TokenReused
from shared.units import METRIC, US, read, unit_of
from tests.tooling.views.works import NOW, ago, open_shop
from tooling.models import Person, Temperature
from tooling.selectors.shop_temperature import shop_temperature
from tooling.services.temperature import measure, rub_out, strike

pytestmark = pytest.mark.django_db


@pytest.fixture
def jonas(db):
    with time_machine.travel(NOW, tick=False):
        open_shop()
        yield Person.objects.named("Jonas")


def said(text, system=METRIC):
    return read(text, unit_of("°C", system))


def write(jonas, text="21.5", **more):
    return measure(said(text), by=jonas, recorded_by=jonas, **more)


def test_it_is_kept_with_who_and_when_in_celsius(jonas):
    one = measure(said("70.7", US), by=jonas, recorded_by=jonas)
    row = Temperature.objects.get(pk=one.pk)
    assert (row.value_c, row.at, row.by, row.as_typed) == (Decimal("21.5"), NOW, jonas, {"value_c": ["70.7", "°F"]})


def test_the_latest_of_the_shops_day_counts(jonas):
    assert shop_temperature(NOW) is None
    write(jonas, "12", at=ago(hours=8))  # 23:40 of the day before in the shop
    assert shop_temperature(NOW) is None
    first, late = write(jonas, "20"), write(jonas, "19", at=ago(hours=2))
    assert shop_temperature(NOW) == first
    assert shop_temperature(ago(hours=1)) == late
    assert shop_temperature(ago(hours=3)) is None
    assert shop_temperature(NOW + timedelta(hours=15)) == first
    assert shop_temperature(NOW + timedelta(hours=17)) is None
    assert shop_temperature(NOW) != (again := write(jonas, "18")) == shop_temperature(NOW)
    assert again.value_c == 18


@pytest.mark.parametrize("text", ["-20.000001", "60.1", "999999999"])
def test_what_no_shop_has_been_is_refused(jonas, text):
    with pytest.raises(Refused, match=r"between -20 and 60 °C \(-4 and 140 °F\)"):
        write(jonas, text)
    assert not Temperature.objects.exists()


@pytest.mark.parametrize("text", ["-20", "60"])
def test_the_ends_of_the_range_are_taken(jonas, text):
    assert write(jonas, text).value_c == Decimal(text)


def test_what_is_still_to_come_is_refused(jonas):
    with pytest.raises(Refused, match="still to come"):
        write(jonas, at=NOW + timedelta(hours=1))


def test_twice_writes_one_and_another_content_is_said(jonas):
    token = uuid4()
    assert write(jonas, token=token) == write(jonas, token=token)
    assert Temperature.objects.count() == 1
    with pytest.raises(TokenReused):
        write(jonas, "22", token=token)


def test_rubbed_out_at_once_by_the_same_hand_only(jonas):
    one = write(jonas)
    with pytest.raises(Refused, match="five minutes"):
        rub_out(one, recorded_by=Person.objects.named("Mara"))
    with time_machine.travel(NOW + timedelta(minutes=6), tick=False), pytest.raises(Refused, match="five minutes"):
        rub_out(one, recorded_by=jonas)
    gone = rub_out(one, recorded_by=jonas)
    assert (gone.struck_why, shop_temperature(NOW)) == ("rubbed out at once", None)
    assert rub_out(one, recorded_by=jonas).struck_at == gone.struck_at


def test_struck_out_with_a_reason_and_the_one_before_counts_again(jonas):
    first, wrong = write(jonas, "20"), write(jonas, "50")
    with pytest.raises(Refused, match="Say why"):
        strike(wrong, by=jonas, reason=" ")
    strike(wrong, by=jonas, reason="beside the oven")
    assert shop_temperature(NOW) == first
    assert strike(wrong, by=jonas, reason="another").struck_why == "beside the oven"
