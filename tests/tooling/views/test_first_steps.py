"""The first steps of an empty shop: the path on the board, its small pages, and where it ends."""

from uuid import uuid4

import pytest

from tooling.models import Entry, Place, ReleaseSystem, Tool
from tooling.services.tools import add_tool

pytestmark = pytest.mark.django_db
BOARD = "/"


@pytest.fixture
def desk(client, lead):
    client.force_login(lead, backend="shared.access.RoleBackend")
    return client


def step(desk):
    """The step that the path shows as the next."""
    page = desk.get(BOARD)
    return page.context["steps"].next if "steps" in page.context else "board"


def test_from_nothing_to_the_first_tool_on_the_board(desk):
    assert step(desk) == "place"
    assert desk.post("/begin/place/", {"line": "rack B, 3 shelves"}).url == BOARD
    assert list(Place.objects.values_list("code", flat=True)) == ["B-1", "B-2", "B-3", "RACK-B"]
    assert step(desk) == "recipe"
    assert desk.post("/begin/recipe/", {"recipes": ["WAX", "SEMI"]}).url == BOARD
    assert ReleaseSystem.objects.count() == 2
    assert step(desk) == "tool"
    form = desk.get("/begin/tool/").context["form"]
    assert form["place"].value() == Place.objects.get(code="B-1").pk
    typed = {"token": str(uuid4()), "code": "DECK-1", "kind": "mold", "recipe": "WAX"}
    assert desk.post("/begin/tool/", typed).url == BOARD
    assert step(desk) == "state"
    page = desk.get(BOARD)
    assert "One tool is on the racks" in page.text
    assert 'href="/tools/DECK-1/starting-state/"' in page.text
    said = {"token": str(uuid4()), "coat": "1", "pulls": "2"}
    assert desk.post("/tools/DECK-1/starting-state/", said).url == BOARD
    assert step(desk) == "board"
    assert "Ready" in desk.get(BOARD).text


def test_steps_can_be_skipped_one_by_one_or_all(desk):
    typed = {"token": str(uuid4()), "code": "DECK-1", "kind": "mold", "recipe": ""}
    desk.post("/begin/tool/", typed)
    assert Tool.objects.get().release_system is None
    assert step(desk) == "state"
    desk.post("/begin/leave/")
    assert step(desk) == "board"
    desk.post("/begin/leave/")
    assert step(desk) == "state"


def test_an_empty_shop_that_left_the_path_finds_it_again(desk):
    desk.post("/begin/leave/")
    text = desk.get(BOARD).text
    assert "Show me the first steps" in text
    assert 'href="/walk/"' in text
    assert "/begin/place/" not in text


@pytest.mark.parametrize("columns", [{"in_making": True}, {"kind": "trim_mask"}])
def test_a_tool_that_needs_no_state_ends_the_path(desk, columns):
    add_tool(**{"code": "DECK-1", "kind": "mold", "name": "Deck", **columns})
    assert step(desk) == "board"


@pytest.mark.parametrize("role", ["reader", "hand", "station"])
def test_others_are_told_that_a_lead_brings_the_tools_in(client, request, role):
    client.force_login(request.getfixturevalue(role), backend="shared.access.RoleBackend")
    text = client.get(BOARD).text
    assert "A lead brings the tools in." in text
    assert "/begin/" not in text
    add_tool(code="DECK-1", kind="mold", name="Deck")
    assert step(client) == "board"


@pytest.mark.parametrize("line", ["", "x" * 201, "a: b: c", "rack B, 300 shelves", "\x00"])
def test_a_place_that_is_not_understood_is_asked_back(desk, line):
    reply = desk.post("/begin/place/", {"line": line})
    assert reply.context["form"].errors["line"]
    assert not Place.objects.exists()


def test_a_place_twice_is_said(desk):
    desk.post("/begin/place/", {"line": "bench 1"})
    assert "already" in desk.post("/begin/place/", {"line": "bench 1"}).context["form"].errors["line"][0]


@pytest.mark.parametrize("recipes", [[], ["NONE"], ["WAX", "NONE"]])
def test_recipes_that_are_none_are_refused(desk, recipes):
    assert desk.post("/begin/recipe/", {"recipes": recipes}).context["form"].errors["recipes"]
    assert not ReleaseSystem.objects.exists()


def test_a_recipe_taken_in_twice_is_harmless(desk):
    for _twice in range(2):
        desk.post("/begin/recipe/", {"recipes": ["WAX"]})
    assert ReleaseSystem.objects.count() == 1
    assert "common practice" in desk.get("/begin/recipe/").text.casefold()


def test_looking_writes_nothing(desk):
    for address in (BOARD, "/begin/place/", "/begin/recipe/", "/begin/tool/", "/walk/"):
        assert desk.get(address).status_code == 200
    assert not any(model.objects.exists() for model in (Place, ReleaseSystem, Tool, Entry))
