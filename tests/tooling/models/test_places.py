"""Places lie within places, never within themselves."""

from decimal import Decimal

import pytest
from django.core.exceptions import ValidationError
from django.db import IntegrityError, transaction

from tooling.models import Place
from tooling.models.places import check_no_loop

pytestmark = pytest.mark.django_db


def place(code, parent=None, **columns):
    made = Place(code=code, name=f"Place {code}", parent=parent, **columns)
    made.full_clean()
    made.save()
    return made


def test_a_shelf_in_a_rack_in_a_room():
    shelf = place("s-1", place("R-1", place("HALL")), height_mm=Decimal("1200.5"))
    assert shelf.code == "S-1"
    assert Place.objects.called(" s-1").get() == shelf


def test_a_loop_is_refused():
    hall = place("HALL")
    rack = place("R-1", hall)
    hall.parent = place("S-1", rack)
    with pytest.raises(ValidationError) as refusal:
        hall.full_clean()
    assert "parent" in refusal.value.message_dict


def test_a_place_in_itself_is_refused_by_the_database_as_well():
    hall = place("HALL")
    hall.parent = hall
    with pytest.raises(ValidationError):
        hall.full_clean()
    with pytest.raises(IntegrityError), transaction.atomic():
        hall.save()


def test_the_validator_serves_rows_that_are_not_stored_yet():
    parents = {"A": "B", "B": "C", "C": None, "X": "Y", "Y": "X"}
    check_no_loop("A", "B", parents.get)
    check_no_loop("A", "X", parents.get)  # a loop elsewhere is said there, and does not hang here
    parents["C"] = "A"
    with pytest.raises(ValidationError):
        check_no_loop("C", "A", parents.get)


@pytest.mark.parametrize("wrong", [{"height_mm": Decimal(-1)}, {"max_load_kg": Decimal("-0.5")}])
def test_a_value_out_of_range_is_refused(wrong):
    with pytest.raises(ValidationError):
        place("R-1", **wrong)
    with pytest.raises(IntegrityError), transaction.atomic():
        Place.objects.create(code="R-1", name="x", **wrong)
