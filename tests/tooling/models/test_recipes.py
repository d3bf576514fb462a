"""Versions of a recipe."""

from dataclasses import fields
from datetime import timedelta

import pytest
from django.db import IntegrityError, transaction

from tests.tooling.rows import NOON
from tooling.calc.recipe import Recipe
from tooling.models import RecipeVersion, ReleaseSystem
from tooling.models.recipes import COUNTS_FROM_NONE, COUNTS_FROM_ONE, TIMES

pytestmark = pytest.mark.django_db


def version(system, valid_from=None, **columns):
    return RecipeVersion.objects.create(
        system=system, valid_from=valid_from, **{"name": "Wax", "family": "paste_wax", **columns}
    )


@pytest.fixture
def wax():
    return ReleaseSystem.objects.create(code="W")


def test_the_defaults_of_a_row_are_those_of_the_rules(wax):
    version(wax)
    assert RecipeVersion.objects.get().as_calc() == Recipe(code="W", family="paste_wax")


def test_every_column_reaches_the_rules(wax):
    columns = {
        "sealer_coats": 2, "coats_new": 6, "coats_again": 4, "break_in": "1, 2", "break_in_on": "new_surface",
        "pulls_between": 7, "touch_up_coats": 2, "max_touch_ups": 3, "max_pulls_per_preparation": 40,
        "max_idle_days": None, "strip_after_idle_days": 90, "max_coat_age_days": 60, "film_every_pull": True,
        "film_first_pulls": 3, "film_dry_minutes": 20.5, "film_good_hours": 8, "coat_gap_minutes": 30,
        "longest_gap_hours": 24, "cure_hours_preparation": 12, "cure_hours_touch_up": 0.5, "touch_up_from": "light",
        "strip_from": "tight", "hold_from": "stuck", "accepts": "s, w2",
    }  # fmt: skip
    version(wax, NOON, **columns)
    read = RecipeVersion.objects.get().as_calc()
    expected = {**columns, "break_in": (1, 2), "accepts": ("S", "W2")}
    assert {field.name: getattr(read, field.name) for field in fields(read)} == {
        "code": "W", "valid_from": NOON, "family": "paste_wax", **expected,
    }  # fmt: skip


def test_no_break_in(wax):
    version(wax, break_in="")
    assert RecipeVersion.objects.get().as_calc().break_in == ()


def test_one_first_version_and_one_a_moment(wax):
    version(wax)
    version(wax, NOON)
    for again in (None, NOON):
        with pytest.raises(IntegrityError), transaction.atomic():
            version(wax, again)


def test_which_version_is_in_force(wax):
    first, second = version(wax), version(wax, NOON)
    other = version(ReleaseSystem.objects.create(code="S"), NOON)
    moment = timedelta(microseconds=1)
    assert set(RecipeVersion.objects.in_force(NOON - moment)) == {first}
    assert set(RecipeVersion.objects.in_force(NOON)) == {second, other}
    assert list(RecipeVersion.objects.in_order()) == [other, first, second]


@pytest.mark.parametrize(
    "wrong",
    [
        *({name: 0} for name in COUNTS_FROM_ONE),
        *({name: -1} for name in (*COUNTS_FROM_NONE, *TIMES)),
        *({name: "easy"} for name in ("touch_up_from", "strip_from", "hold_from", "break_in_on", "family")),
    ],
)
def test_a_value_out_of_range_is_refused(wax, wrong):
    with pytest.raises(IntegrityError), transaction.atomic():
        version(wax, **wrong)
