"""A new tool is on its kind's usual recipe, unless another is chosen."""

import pytest

from tests.tooling.views.works import do, mold, recipe
from tooling.models import Kind, Tool
from tooling.selectors.usual import usual_recipes

pytestmark = pytest.mark.django_db
NEW = "/tools/new/all/"


@pytest.fixture
def bring_in(client, lead, morning):
    client.force_login(lead, backend="shared.access.RoleBackend")

    def brought(kind, **typed):
        form = client.get(NEW).context["form"]
        stands = {name: form[name].value() or "" for name in form.fields}
        client.post(NEW, {**stands, "code": "NEW", "name": "New", "kind": kind, "in_making": "", **typed})
        return Tool.objects.select_related("release_system").get(code="NEW")

    return brought


def usual():
    return {kind: system.code for kind, system in usual_recipes().items()}


def test_the_starter_of_its_kind_before_what_most_are_on(morning):
    house, plugs = recipe("HOUSE"), recipe("WAX-PLUG")
    for number in range(3):
        mold(f"P-{number}", house, kind=Kind.PLUG, pulls=None)
        mold(f"I-{number}", plugs if number else house, kind=Kind.INSERT, pulls=None)
    assert usual() == {"plug": "WAX-PLUG", "mold": "WAX", "insert": "WAX-PLUG"}
    mold("M", recipe("SEMI"), pulls=None)
    assert usual()["mold"] == "SEMI"
    do("retire", Tool.objects.get(code="M"))
    assert usual()["mold"] == "WAX"


@pytest.mark.parametrize(
    ("kind", "system"), [("mold", "WAX"), ("plug", "WAX-PLUG"), ("insert", None), ("trim_mask", None)]
)
def test_the_form_proposes_it_and_takes_it(client, bring_in, kind, system):
    recipe("WAX-PLUG")
    tool = bring_in(kind)
    assert (tool.release_system and tool.release_system.code) == system
    assert tool.summary.state.get("system") == system
    text = client.get(NEW).text
    assert "Usual here: plug WAX-PLUG, mold WAX." in text
    assert "as usual for a mold: WAX" in text


def test_another_or_none_may_be_chosen(bring_in):
    recipe("OTHER")
    assert bring_in("mold", release_system="OTHER").release_system.code == "OTHER"
    Tool.objects.update(code="OLD")
    assert bring_in("mold", release_system="").release_system is None


def test_nonsense_is_said_and_what_was_chosen_stays(client, bring_in):
    bring_in("mold")
    form = client.post(NEW, {"code": "X", "name": "X", "kind": "mold", "release_system": "999"}).context["form"]
    assert "Choose one of those offered." in str(form.errors["release_system"])
    form = client.post(NEW, {"code": "", "name": "X", "kind": "mold", "release_system": "usual"}).context["form"]
    assert (form["release_system"].value(), list(form.errors)) == ("usual", ["code"])
