"""Two leads add the same at the same moment: the second one is told what it is always told, and nothing is lost."""

import pytest
from django.db.models import QuerySet

from tests.tooling.views.works import mold, recipe
from tooling.models import Part, PartRevision, Place, PlaceAlias, ReleaseSystem, Tool, ToolAlias

pytestmark = [pytest.mark.django_db, pytest.mark.both]


@pytest.fixture
def meanwhile(monkeypatch):
    """Has another row written just after the first check of a model found nothing. It goes with what is refused."""

    def written(row):
        check, done = type(row).full_clean, []

        def checked(*args, **more):
            found = check(*args, **more)
            if not done:
                done.append(row.save_base(raw=True, force_insert=True))
            return found

        monkeypatch.setattr(type(row), "full_clean", checked)

    return written


@pytest.fixture
def typed(client, lead, morning):
    client.force_login(lead, backend="shared.access.RoleBackend")

    def values(address):
        form = client.get(address).context["form"]
        return {name: form[name].value() or "" for name in form.fields}

    return values


def test_a_tool(client, typed, meanwhile):
    filled = {**typed("/tools/new/all/"), "code": "deck-3", "name": "Kayak deck", "kind": "mold"}
    meanwhile(Tool(code="DECK-3", kind="mold", name="Another"))
    form = client.post("/tools/new/all/", filled).context["form"]
    assert "DECK-3 is or was the code of the tool DECK-3." in " ".join(form.errors["code"])
    assert form["name"].value() == "Kayak deck"
    assert not Tool.objects.exists()


def test_another_code_of_a_tool(client, typed, meanwhile, morning):
    mold("DECK", morning)
    filled = {**typed("/tools/DECK/change/"), "code": "HULL"}
    meanwhile(Tool(code="HULL", kind="mold", name="Another"))
    form = client.post("/tools/DECK/change/", filled).context["form"]
    assert "HULL is or was the code of the tool HULL." in " ".join(form.errors["code"])
    assert (Tool.objects.get().code, ToolAlias.objects.count()) == ("DECK", 0)


def test_a_place(client, typed, meanwhile):
    meanwhile(Place(code="C-2", name="Another"))
    text = client.post("/racks/new/", {"lines": "rack C, 3 shelves", "do": "put-up"}).text
    assert "C-2: Place with this Code already exists." in text
    assert not Place.objects.exists()


def test_another_code_of_a_place(client, typed, meanwhile):
    Place.objects.create(code="B-1", name="Shelf")
    filled = {**typed("/racks/B-1/change/"), "code": "C-1"}
    meanwhile(Place(code="C-1", name="Another"))
    form = client.post("/racks/B-1/change/", filled).context["form"]
    assert "already exists" in " ".join(form.errors["code"])
    assert (Place.objects.get().code, PlaceAlias.objects.count()) == ("B-1", 0)


def test_a_part_in_any_case(client, typed, meanwhile):
    filled = {**typed("/parts/new/"), "number": "k520", "name": "Deck"}
    meanwhile(Part(number="K520"))
    form = client.post("/parts/new/", filled).context["form"]
    assert "There is a part of that number already." in str(form.errors)
    assert not Part.objects.exists()


def test_a_revision(client, typed, meanwhile):
    part = Part.objects.create(number="K520")
    PartRevision.objects.create(part=part, revision="A", name="Deck")
    filled = {**typed("/parts/K520/revise/"), "revision": "B"}
    meanwhile(PartRevision(part=part, revision="B", name="Another"))
    form = client.post("/parts/K520/revise/", filled).context["form"]
    assert "This part has that revision already." in str(form.errors)
    assert PartRevision.objects.get().revision == "A"


def test_a_starter_recipe_leads_to_the_one_that_is_there(client, lead, morning, monkeypatch):
    client.force_login(lead, backend="shared.access.RoleBackend")
    there, blind = recipe("SEMI", name="Our own"), iter([False])
    exists = QuerySet.exists
    looks = lambda rows: next(blind, True) and exists(rows) if rows.model is ReleaseSystem else exists(rows)  # noqa: E731
    monkeypatch.setattr(QuerySet, "exists", looks)
    assert client.post("/recipes/SEMI/take-in/").url == "/recipes/SEMI/"
    assert there.versions.get().name == "Our own"
