"""Coats, film, strip."""

import re
from datetime import timedelta

import pytest
import time_machine

from shared.clock import now
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
    assert "1 of 3 coats on" in page.text
    assert "It went on earlier all the same" in page.text


def on_board(client):
    """The time that the morning board gives the first tool that wants a coat, and that of its own page."""
    found = re.search(r'<p class="key"><b>([^<]+)</b>[^<]*if started now', client.get("/").text)
    return found.group(1)


def earliest(page):
    """The earliest lay-up on a page of coats or film: its clock, and what it waits for."""
    text = page.text.partition("Earliest lay-up</dt><dd>")[2].partition("</dd>")[0]
    clock, _small, waits = text.partition("<small>")
    return re.sub(r"<[^>]+>", "", clock).strip(), waits.removesuffix("</small>")


@pytest.mark.parametrize(
    ("recipe", "before", "page", "says"),
    [
        ({"cure_hours_touch_up": 1, "pulls_between": 1}, "log_pull", "coat", "one coat, with 15 min of work a coat"),
        (
            {"coats_again": 3, "film_every_pull": True, "film_dry_minutes": 30}, "strip_wanted", "coat",
            "strip it first, then three coats, then a film, with 60 min of work for the strip and 15 min of work a "
            "coat and 10 min of work for the film",
        ),
        ({"film_every_pull": True, "film_dry_minutes": 30}, "", "film", "a film, with 10 min of work for the film"),
        ({"film_every_pull": True, "film_dry_minutes": 30}, "", "coat", "a film, with 10 min of work for the film"),
    ],
)  # fmt: skip
def test_board_and_page_say_one_time(client, shop, recipe, before, page, says):
    happened.remove(shop.insert)
    with time_machine.travel((now() + timedelta(days=1)).replace(hour=9, minute=20, second=30), tick=False):
        happened.retire(shop.insert)
        RecipeVersion.objects.update(**recipe)
        if before == "log_pull":
            happened.log_pull(shop.mold, came_off="free")
        elif before:
            happened.log_pull(shop.mold, came_off="stuck")
        else:
            happened.log_coat(shop.mold)
        clock, waits = earliest(client.get(f"/tools/DECK-2A/{page}/"))
        assert waits == f"if started now: {says}"
        assert clock == on_board(client)


def test_strip_first_is_said_instead_of_nothing_missing(client, shop):
    happened.log_pull(shop.mold, came_off="stuck")
    page = client.get("/tools/DECK-2A/coat/").text
    assert "Strip it first, then one coat." in page
    assert "nothing is missing" not in page
    assert "No coat is missing" not in page
    happened.lay_up(shop.mold)
    assert "<b>Strip it first.</b>" in client.get("/tools/DECK-2A/coat/").text


@pytest.mark.parametrize(
    ("deed", "facts", "says"),
    [
        ("hold", {}, "it is held: somebody looks at it first"),
        ("lay_up", {}, "a part is in it: that comes out first"),
        ("make_step", {"step": "polish"}, "it is still in the making: it has to be accepted first"),
    ],
)
def test_what_no_work_mends_has_no_time(client, shop, deed, facts, says):
    getattr(happened, deed)(shop.mold, **facts)
    assert earliest(client.get("/tools/DECK-2A/coat/")) == ("–", says)


def test_after_a_coat_the_page_stays_while_something_is_missing(client, send, shop):
    RecipeVersion.objects.update(coats_again=2, wipe_minutes=15, coat_gap_minutes=60)
    happened.strip(shop.mold)
    for _ in range(2):
        assert send("coat", what="coat").url == "/tools/DECK-2A/coat/"
    page = client.get("/tools/DECK-2A/coat/").text
    assert "Rub it out" in page
    assert "Wipe from" in page
    with time_machine.travel(now() + timedelta(minutes=20), tick=False):
        assert "Wipe from" not in client.get("/tools/DECK-2A/coat/").text


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
