"""A place gets another code: the old one leads to it for ever, and is nobody else's."""

import pytest

from tests.tooling.views.works import do, mold
from tooling.models import Place, PlaceAlias, Tool
from tooling.selectors.find import with_words, words_in
from tooling.services.recheck import differences
from tooling.services.tools import rules

pytestmark = [pytest.mark.django_db, pytest.mark.both]
SHELF, CHANGE = "/racks/B-1/", "/racks/B-1/change/"


@pytest.fixture
def shelf(morning, client, lead):
    client.force_login(lead, backend="shared.access.RoleBackend")
    rack = Place.objects.create(code="RACK-B", name="Rack B")
    return Place.objects.create(code="B-1", name="Rack B, shelf 1", parent=rack)


@pytest.fixture
def rename(client, shelf):
    def renamed(code, at="B-1"):
        address = f"/racks/{at}/change/"
        form = client.get(address).context["form"]
        stands = {name: form[name].value() or "" for name in form.fields}
        return client.post(address, {**stands, "code": code})

    return renamed


def test_the_old_code_still_opens_it_and_finds_what_lies_there(client, rename, shelf, morning):
    mold("DECK", morning, place=shelf)
    assert rename("c-7").url == "/racks/C-7/"
    for address in (SHELF, "/racks/b-1/", "/racks/B-1/seen/"):
        assert client.get(address).url == "/racks/C-7/"
    for address in ("/p/B-1/", "/P/B-1/", "/p/C-7/"):
        assert client.get(address).url.startswith("/racks/C-7/?scanned=C-7")
    assert client.get(CHANGE).context["place"] == shelf
    for word in ("b-1", "c-7", "shelf"):
        assert [tool.code for tool in with_words(Tool.objects.all(), words_in(word))] == ["DECK"]
    assert not list(differences(rules()))


def test_the_old_code_may_be_taken_back_and_is_nobody_elses(client, rename, shelf):
    rename("C-7")
    text = rename("B-1", at="RACK-B").text
    assert "B-1 was the code of the place C-7." in text
    assert "There is or was a place B-1 already." in client.post("/racks/new/", {"lines": "B-1: rack"}).text
    assert rename("B-1", at="C-7").url == SHELF
    assert [alias.code for alias in PlaceAlias.objects.all()] == ["C-7"]


@pytest.mark.parametrize(
    ("code", "wrong"), [("RACK-B", "already exists"), ("ä b", "A code is 1 to 16"), ("", "Fill this in")]
)
def test_an_impossible_code_is_said_and_changes_nothing(rename, code, wrong):
    assert wrong in " ".join(rename(code).context["form"].errors["code"])
    assert sorted(Place.objects.values_list("code", flat=True)) == ["B-1", "RACK-B"]
    assert not PlaceAlias.objects.exists()


def test_a_tool_is_put_where_an_old_tag_says(client, rename, shelf, morning):
    tool = mold("DECK", morning)
    rename("C-7")
    form = client.get("/tools/DECK/move/?to=B-1").context["form"]
    assert form["place"].value() == shelf.pk
    do("move", tool, place=shelf)
    assert "C-7" in client.get("/tools/DECK/").text
