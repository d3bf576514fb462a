"""A new tool, guided: where it comes from, then only what that needs."""

from decimal import Decimal

import pytest

from tests.tooling.views.works import ago, do, mold, recipe
from tooling.models import Entry, Kind, Tool
from tooling.services.tools import add_tool

pytestmark = pytest.mark.django_db
BUILD = "/tools/new/plug/"


@pytest.fixture
def plug(morning):
    """The last plug, and what it took."""
    film = recipe("WAX-PLUG")
    tool = add_tool(
        code="12-PLUG", kind="plug", name="Shell plug", release_system=film, in_making=True,
        construction="foam on a steel base", length_mm=Decimal(4200),
    )  # fmt: skip
    do("make_step", tool, at=ago(days=3), step="filling", work="filler", minutes=Decimal(120))
    do("accept", tool, at=ago(days=2))
    return tool


def test_it_asks_where_it_comes_from_and_offers_what_lies_on_a_plug(sign_in, morning):
    source = mold("14-PLUG", morning, kind=Kind.PLUG, pulls=None)
    do("lay_up", source, at=ago(hours=30), part="14.HULL")
    page = sign_in("lead").get("/tools/new/").text
    for address in ("/tools/14-PLUG/take-off/", "/tools/new/insert/", "/walk/", "/tools/new/all/"):
        assert f'href="{address}"' in page
    assert "Laid up on it: 14.HULL." in page


def test_a_plug_is_begun_like_the_last_which_says_what_it_took(sign_in, plug):
    lead = sign_in("lead")
    page = lead.get(BUILD).text
    assert "2 h of work." in page
    assert 'href="?like=12-PLUG"' in page
    form = lead.get(BUILD, {"like": "12-PLUG"}).context["form"]
    typed = {name: form[name].value() for name in form.fields} | {"code": "13-plug", "name": "Next plug"}
    sent = {name: value for name, value in typed.items() if value is not None}
    for _time in range(2):
        assert lead.post(f"{BUILD}?like=12-PLUG", sent).url == "/tools/13-PLUG/"
    new = Tool.objects.get(code="13-PLUG")
    assert (new.in_making, new.kind, new.construction, new.length_mm) == (True, "plug", "foam on a steel base", 4200)
    assert new.release_system == plug.release_system
    assert not Entry.objects.filter(tool=new).exists()


def test_a_code_that_is_taken_is_said_and_nothing_typed_is_lost(sign_in, plug):
    reply = sign_in("lead").post(BUILD, {"code": "12-plug", "name": "Another", "construction": "wood"})
    assert reply.context["form"].errors["code"] == ["12-PLUG is or was the code of the tool 12-PLUG."]
    assert 'value="Another"' in reply.text
    assert Tool.objects.count() == 1


def test_a_trim_mask_is_asked_for_no_release_recipe_and_no_kind_is_made_up(sign_in, plug):
    lead = sign_in("lead")
    assert "release_system" not in lead.get("/tools/new/trim_mask/").context["form"].fields
    assert lead.get("/tools/new/boat/").status_code == 404
