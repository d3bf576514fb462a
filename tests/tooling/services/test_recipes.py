"""A recipe is added, and changed from now on; starter recipes are on offer."""

from datetime import timedelta

import pytest

from shared.errors import Refused
from tests.tooling.rows import NOON
from tooling.models import NO_SOURCE, RecipeVersion, ReleaseSystem
from tooling.services.recipes import add_system, add_version
from tooling.services.starters import STARTERS, add_starter

pytestmark = pytest.mark.django_db
COLUMNS = {"name": "Wax", "family": "paste_wax"}


@pytest.fixture
def wax():
    return add_system(code=" w ", columns={**COLUMNS, "pulls_between": "3"}).system


def refused(field, run, *args, **kwargs):
    before = list(RecipeVersion.objects.values()), list(ReleaseSystem.objects.values())
    with pytest.raises(Refused) as refusal:
        run(*args, **kwargs)
    assert refusal.value.field == field
    assert (list(RecipeVersion.objects.values()), list(ReleaseSystem.objects.values())) == before


def test_a_new_recipe_holds_from_the_beginning(wax):
    version = wax.versions.get()
    assert (wax.code, version.valid_from, version.pulls_between) == ("W", None, 3)


def test_a_recipe_that_cannot_be_added(wax):
    refused("code", add_system, code="w", columns=COLUMNS)
    refused("code", add_system, code="no code", columns=COLUMNS)
    refused("family", add_system, code="S", columns={**COLUMNS, "family": ""})
    refused("pulls", add_system, code="S", columns={**COLUMNS, "pulls": 3})
    refused("accepts", add_system, code="S", columns={**COLUMNS, "accepts": "w, x1"})


def test_a_recipe_may_accept_another(wax):
    assert add_system(code="S", columns={**COLUMNS, "accepts": "w"}).accepted_codes == ("W",)


def test_a_change_is_a_further_version(wax):
    now = add_version(wax, at=NOON, columns=COLUMNS)
    later = add_version(wax, at=NOON, valid_from=NOON + timedelta(days=3), columns={**COLUMNS, "pulls_between": 2})
    assert [version.valid_from for version in wax.versions.in_order()] == [None, NOON, NOON + timedelta(days=3)]
    assert (now.pulls_between, later.pulls_between) == (4, 2)


def test_a_change_that_cannot_be_made(wax):
    refused("valid_from", add_version, wax, at=NOON, valid_from=NOON - timedelta(seconds=1), columns=COLUMNS)
    refused("valid_from", add_version, wax, at=NOON, valid_from=NOON.replace(year=9999), columns=COLUMNS)
    refused("pulls_between", add_version, wax, at=NOON, columns={**COLUMNS, "pulls_between": 0})
    add_version(wax, at=NOON, columns=COLUMNS)
    refused("valid_from", add_version, wax, at=NOON, columns=COLUMNS)
    refused("valid_from", add_version, ReleaseSystem.objects.create(code="S"), at=NOON, columns=COLUMNS)


@pytest.mark.parametrize("name", STARTERS)
def test_a_starter_recipe_says_that_it_has_no_source(name):
    version = add_starter(name.lower())
    assert version.system.code == name
    assert version.supplier_sheet == NO_SOURCE
    version.refresh_from_db()
    version.as_calc()


def test_a_starter_is_taken_in_once():
    add_starter("WAX")
    refused("code", add_starter, "WAX")
    refused("code", add_starter, "NONE")
