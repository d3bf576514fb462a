"""What a change of a recipe would do to the tools, before it is saved; and a new recipe."""

import pytest

from tests.tooling.views.works import NOW, ago, do, mold, recipe
from tooling.models import Entry, RecipeVersion, ReleaseSystem, Span
from tooling.selectors.recipes import in_force
from tooling.selectors.release import standings
from tooling.selectors.what_if import with_version
from tooling.services.recipes import drafted_version
from tooling.services.starters import STARTERS
from tooling.words.recipes import COLUMNS

pytestmark = pytest.mark.django_db
CHANGE, NEW = "/recipes/WAX/change/", "/recipes/new/"


@pytest.fixture
def desk(client, lead, morning):
    client.force_login(lead, backend="shared.access.RoleBackend")
    return client


def stands(desk, address=CHANGE):
    form = desk.get(address).context["form"]
    values = {name: form[name].value() for name in form.fields}
    return {name: "" if value is None else value for name, value in values.items()}


def said(reply):
    return {one.tool.code: (one.now, one.then) for one in reply.context["preview"].changed}


def test_a_preview_names_the_tools_and_writes_nothing(desk, morning):
    mold("DECK", morning, pulls=2)
    mold("HULL", morning, pulls=4)
    mold("PORT", recipe("SEMI", family="semi_permanent"), pulls=4)
    before = list(Span.objects.values_list("pk", flat=True))
    reply = desk.post(CHANGE, {**stands(desk), "pulls_between": "3"})
    assert said(reply) == {
        "DECK": ("Ready: 2 pulls, then wax.", "Last pull, then wax."),
        "HULL": ("Wax first: 4 of 4 pulls done. One coat.", "Wax first: 1 pull past the wax line. One coat."),
    }
    assert "<del>4</del> <ins>3</ins>" in reply.text
    assert (morning.versions.count(), list(Span.objects.values_list("pk", flat=True))) == (1, before)


def test_what_is_shown_is_what_saving_does(desk, morning):
    for code, pulls in (("DECK", 2), ("HULL", 4), ("RIM", 0), ("BARE", None)):
        mold(code, morning, pulls=pulls)
    insert = mold("HATCH", morning, pulls=3, kind="insert")
    do("install", insert, mold=mold("LID", recipe("SEMI", family="semi_permanent")))
    typed = {**stands(desk), "pulls_between": "3", "cure_hours_touch_up": "30", "max_idle_days": "20"}
    new = drafted_version(morning, columns={name: typed[name] for name in COLUMNS})
    found = with_version(new, NOW)
    would = {one.tool.code: one.status.status for one in found.changed}
    before = {one.tool.code: one.status for one in standings()}
    reply = desk.post(CHANGE, typed)
    assert said(reply).keys() == would.keys()
    assert "This is about HATCH" in said(reply)["LID"][1]
    assert desk.post(CHANGE, {**dict(reply.context["kept"]), "do": "save"}).url == "/recipes/WAX/"
    after = {one.tool.code: one.status for one in standings()}
    assert {code: after[code] for code in would} == would
    same = after.keys() - would.keys()
    assert {after[code].status for code in same} == {before[code].status for code in same}
    span = Span.objects.at(NOW).get(tool__code="LID")
    assert span.status == would["LID"].status == "needs_touch_up"


def test_going_back_keeps_what_was_typed(desk, morning):
    page = desk.post(CHANGE, {**stands(desk), "pulls_between": "3", "do": "edit"})
    assert page.context["form"]["pulls_between"].value() == "3"
    assert 'class="refused"' not in page.text
    assert morning.versions.count() == 1


def test_a_day_that_moves_is_said(desk, morning):
    mold("DECK", morning)
    reply = desk.post(CHANGE, {**stands(desk), "max_idle_days": "90"})
    assert reply.context["preview"].changed == []
    assert "11 June 2026" in reply.text
    assert "10 August 2026" in reply.text


def test_a_preview_of_a_recipe_without_tools(desk):
    assert "No tool is on it yet." in desk.post(CHANGE, {**stands(desk), "pulls_between": "3"}).text


@pytest.mark.parametrize("count", [1, 30])
def test_a_preview_asks_as_much_for_thirty_tools_as_for_one(desk, morning, count, django_assert_num_queries):
    for number in range(count):
        mold(f"M-{number}", morning, pulls=2)
    typed = {**stands(desk), "pulls_between": "3"}
    with django_assert_num_queries(16):
        desk.post(CHANGE, typed)
    assert Entry.objects.count() == 3 * count


def test_a_recipe_from_nothing(desk):
    typed = {**stands(desk, NEW), "code": "wax-2", "name": "Hard wax", "family": "paste_wax"}
    assert desk.post(NEW, typed).url == "/recipes/WAX-2/"
    made = RecipeVersion.objects.get(system__code="WAX-2")
    assert (made.valid_from, made.pulls_between, made.name) == (None, 4, "Hard wax")


@pytest.mark.parametrize("code", ["WAX", "SEMI"])
def test_a_recipe_begins_with_the_numbers_of_another_or_of_a_starter(desk, morning, code):
    morning.versions.update(pulls_between=7, max_idle_days=None)
    typed = stands(desk, f"{NEW}?from={code}")
    desk.post(NEW, {**typed, "code": "OWN"})
    made = in_force(ago())["OWN"]
    assert made.pulls_between == (7 if code == "WAX" else STARTERS["SEMI"].columns["pulls_between"])
    assert ("common practice, no source" in made.supplier_sheet) is (code == "SEMI")
    assert ("A starter recipe" in desk.get("/recipes/OWN/").text) is (code == "SEMI")


@pytest.mark.parametrize(
    ("typed", "wrong"),
    [
        ({"code": "WAX"}, "code"),
        ({"code": "MY WAX"}, "code"),
        ({"code": ""}, "code"),
        ({"code": "\x00"}, "code"),
        ({"code": "OWN", "family": ""}, "family"),
        ({"code": "OWN", "pulls_between": "0"}, "pulls_between"),
        ({"code": "OWN", "accepts": "NONE"}, "accepts"),
    ],
)
def test_a_recipe_that_cannot_be_keeps_what_was_typed(desk, typed, wrong):
    filled = {**stands(desk, NEW), "name": "Hard wax", "family": "paste_wax", **typed}
    reply = desk.post(NEW, filled)
    assert list(reply.context["form"].errors) == [wrong]
    assert 'value="Hard wax"' in reply.text
    assert ReleaseSystem.objects.count() == 1
