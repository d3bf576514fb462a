"""Coats, film, strip."""

import pytest

from tests.tooling.views.deeds.conftest import errors, happened
from tooling.models import Entry, RecipeVersion

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def signed_in(client, hand, shop):
    client.force_login(hand)


def test_a_coat_is_one_tap(send, shop):
    happened.want_wax(shop.mold)
    assert send("coat", what="coat", lot="tin 14").url == "/tools/DECK-2A/"
    entry = Entry.objects.filter(tool=shop.mold, kind="coat").last()
    assert (entry.count, entry.area, entry.payload["lot"]) == (1, "whole", "tin 14")


def test_the_page_says_how_many_are_missing_and_when(client, shop):
    happened.strip(shop.mold)
    RecipeVersion.objects.update(coats_again=3, coat_gap_minutes=60, cure_hours_preparation=4)
    happened.log_coat(shop.mold)
    page = client.get("/tools/DECK-2A/coat/")
    plan = page.context["plan"]
    assert (plan.on, plan.missing, plan.wanted) == (1, 2, 3)
    assert "Coat 1 of 3" in page.text
    assert "It went on earlier all the same" in page.text


def test_a_recipe_with_sealer_asks_which_it_was(client, send, shop):
    RecipeVersion.objects.update(sealer_coats=1)
    happened.strip(shop.mold)
    assert client.get("/tools/DECK-2A/coat/").context["form"]["what"].value() == "sealer"
    send("coat", what="sealer")
    assert Entry.objects.last().kind == "sealer"


def test_another_recipes_coat_and_a_part_of_the_surface(send, shop):
    send("coat", what="coat", release_system="SEMI", area="flange", reason="tight", count="2")
    entry = Entry.objects.last()
    assert (entry.release_system, entry.area, entry.count, entry.payload["reason"]) == ("SEMI", "flange", 2, "tight")


@pytest.mark.parametrize("count", ["0", "-1", "501", "1.5", "two", "9" * 5000])
def test_a_count_that_cannot_be_is_said_at_its_field(send, count):
    before = Entry.objects.count()
    answer = send("coat", what="coat", count=count, lot="tin 14")
    assert "count" in errors(answer)
    assert "tin 14" in answer.text
    assert Entry.objects.count() == before


def test_film_and_strip(send, shop):
    assert send("film", lot="7").status_code == 302
    assert send("strip", area="spot", note="by the bow").status_code == 302
    kinds = list(Entry.objects.filter(tool=shop.mold).order_by("id").values_list("kind", "area"))[-2:]
    assert kinds == [("film", "whole"), ("strip", "spot")]


@pytest.mark.parametrize("name", ["lay-up", "pulled", "coat", "film", "strip"])
def test_a_trim_mask_has_no_surface(client, name):
    assert client.get(f"/tools/COAM-TRIM/{name}/").status_code == 404
    assert client.post(f"/tools/COAM-TRIM/{name}/", {}).status_code == 404


@pytest.mark.parametrize("name", ["lay-up", "pulled"])
def test_an_insert_in_a_mold_points_to_it(client, name):
    assert f'href="/tools/DECK-2A/{name}/"' in client.get(f"/tools/HATCH7/{name}/").text


def test_a_tool_without_a_recipe_still_has_its_pages(client, shop):
    from tooling.services.tools import add_tool

    add_tool(code="BARE", name="Bare", kind="mold")
    for name in ("lay-up", "pulled", "coat", "film", "strip"):
        assert client.get(f"/tools/BARE/{name}/").status_code == 200
