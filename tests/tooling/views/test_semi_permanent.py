"""Only paste wax says wax: the pages of a tool on a semi-permanent release liquid never do."""

import re

import pytest

from tests.tooling.views.works import ago, do, mold, recipe

pytestmark = pytest.mark.django_db

SPOKEN = re.compile(r'(?:aria-label|title|placeholder)="([^"]*)"')
ROW = re.compile(r'<li class="row.*?</li>', re.DOTALL)


@pytest.fixture
def shown(client, hand, morning):
    """Opens a page as a hand."""
    client.force_login(hand, backend="shared.access.RoleBackend")
    return lambda address: client.get(address).text


def said(html):
    """All that is seen or read out of a piece of a page, without the codes of the shop's other recipes."""
    html = re.sub(r"<option.*?</option>", "", html, flags=re.DOTALL)
    return " ".join([*SPOKEN.findall(html), re.sub(r"<[^>]+>", " ", html)]).casefold()


@pytest.mark.parametrize("pulls", [None, 0, 3, 4, 6])
def test_the_pages_of_a_semi_permanent_tool_never_say_wax(shown, pulls):
    semi = recipe("SEMI", family="semi_permanent", name="Semi-permanent", coats_new=3, wipe_minutes=10)
    port = mold("12.PORT", semi, pulls=pulls)
    do("want_wax", port, at=ago(minutes=30))
    do("log_coat", port, at=ago(minutes=20), count=1)
    pages = [shown(f"/tools/12.PORT/{name}") for name in ("", "coat/")]
    for piece in (*ROW.findall(shown("/")), *(page.partition("<main")[2] for page in pages)):
        assert "12.port" in said(piece)
        assert "wax" not in said(piece)


@pytest.mark.parametrize("name", ["lay-up", "pulled", "film", "strip", "hold", "looked-at", "move"])
def test_no_deed_on_a_semi_permanent_tool_says_wax(shown, name):
    mold("12.PORT", recipe("SEMI", family="semi_permanent", name="Semi-permanent"), pulls=4)
    page = shown(f"/tools/12.PORT/{name}/").partition("<main")[2]
    assert "12.port" in said(page)
    assert "wax" not in said(page)


def test_what_changing_a_semi_permanent_recipe_would_do_never_says_wax(client, lead, morning):
    client.force_login(lead, backend="shared.access.RoleBackend")
    semi = recipe("SEMI", family="semi_permanent", name="Semi-permanent")
    mold("12.PORT", semi, pulls=2)
    form = client.get("/recipes/SEMI/change/").context["form"]
    typed = {name: "" if form[name].value() is None else form[name].value() for name in form.fields}
    preview = client.post("/recipes/SEMI/change/", {**typed, "pulls_between": "2"}).text.partition("<main")[2]
    assert "release first" in said(preview)
    for page in (preview, client.get("/recipes/SEMI/").text.partition("<main")[2]):
        assert "wax" not in said(page)


def test_its_row_on_the_board_never_says_wax(shown):
    mold("12.PORT", recipe("SEMI", family="semi_permanent", name="Semi-permanent"), pulls=4)
    (row,) = ROW.findall(shown("/"))
    assert "release first" in said(row)
    assert "wax" not in said(row)


def test_a_coat_page_says_what_goes_on(shown, morning):
    mold("12.PORT", recipe("SEMI", family="semi_permanent", name="Semi-permanent"))
    mold("DECK", morning)
    assert "release liquid and solvent burn" in said(shown("/tools/12.PORT/coat/"))
    assert "wax and solvent burn" in said(shown("/tools/DECK/coat/"))
    assert "pva liquid burns" in said(shown("/tools/DECK/film/"))
