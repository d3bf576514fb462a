"""The walk along the racks: tool, picture and starting state in one go, and how a tool stands."""

import datetime
import io
from html import unescape
from uuid import uuid4

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from PIL import Image

from tests.tooling.views.works import NOW, do, mold, recipe
from tooling.models import Entry, Picture, Place, Summary, Tool
from tooling.services.places import NewPlace, put_up
from tooling.services.recheck import differences
from tooling.services.starters import add_starter
from tooling.services.tools import rules

pytestmark = pytest.mark.django_db
WALK = "/walk/"


@pytest.fixture
def desk(client, lead, morning):
    client.force_login(lead, backend="shared.access.RoleBackend")
    put_up([NewPlace("B-1", "Rack B, shelf 1")])
    return client


def photo(colour="navy"):
    made = io.BytesIO()
    Image.new("RGB", (60, 40), colour).save(made, "JPEG")
    return SimpleUploadedFile("camera.jpg", made.getvalue(), "image/jpeg")


def typed(**more):
    return {"token": str(uuid4()), "code": "DECK-7", "kind": "mold", "recipe": "-proposed", "coat": "unsure", **more}


def day_of(tool):
    return Entry.objects.get(tool=tool, kind="starting_state", replaced_by=None).at


def test_all_goes_in_at_once_and_the_next_begins_where_this_one_lay(desk, lead):
    place = Place.objects.get()
    reply = desk.post(WALK, typed(code="deck-7", picture=photo(), place=place.pk, coat="2", pulls="3"))
    assert reply.url == "/walk/?kind=mold&recipe=-proposed&place=B-1"
    tool = Tool.objects.get(code="DECK-7")
    assert (tool.name, tool.place, tool.release_system.code) == ("Mold", place, "WAX")
    assert (Picture.objects.get().tool, Picture.objects.get().main) == (tool, True)
    assert day_of(tool) == datetime.datetime(2026, 4, 28, 11, tzinfo=datetime.UTC)  # noon in the shop, two weeks ago
    summary = Summary.objects.get(tool=tool)
    assert (summary.since_coat, summary.state["phase"]) == (3, "service")
    assert list(differences(rules())) == []
    page = desk.get(reply.url)
    assert page.context["form"]["place"].value() == place.pk
    assert "1 tool taken in today" in page.text
    assert 'href="/tools/DECK-7/change/"' in page.text


@pytest.mark.parametrize(
    ("said", "at", "phase", "new"),
    [
        ({"coat": "unsure"}, NOW, "unknown", False),
        ({"coat": "unsure", "pulls": "3"}, NOW, "unknown", False),
        ({"coat": ""}, NOW, "unknown", False),
        ({"coat": "4"}, datetime.datetime(2026, 4, 14, 11, tzinfo=datetime.UTC), "unknown", False),
        ({"coat": "today", "pulls": "0"}, NOW, "service", False),
        (
            {"coat": "yesterday", "pulls": "2"},
            datetime.datetime(2026, 5, 11, 11, tzinfo=datetime.UTC),
            "service",
            False,
        ),
        (
            {"coat": "day", "coat_day": "2026-01-31", "pulls": "1"},
            datetime.datetime(2026, 1, 31, 12, tzinfo=datetime.UTC),
            "service",
            False,
        ),
        ({"coat": "bare", "pulls": "9"}, NOW, "bare", True),
        ({"coat": "bare", "total": "40"}, NOW, "bare", False),
    ],
)
def test_a_starting_state_is_dated_by_the_last_coat_and_the_unknown_stays_unknown(desk, said, at, phase, new):
    desk.post(WALK, typed(**said))
    state = Summary.objects.get().state
    assert (day_of(Tool.objects.get()), state.get("phase", "bare"), state.get("new", True)) == (at, phase, new)


@pytest.mark.parametrize(
    ("wrong", "at"),
    [
        ({"code": ""}, "code"),
        ({"code": "\x00"}, "code"),
        ({"code": "/// ..."}, "code"),
        ({"kind": ""}, "kind"),
        ({"kind": "jig"}, "kind"),
        ({"place": "999"}, "place"),
        ({"recipe": "NONE"}, "recipe"),
        ({"coat": "ages"}, "coat"),
        ({"coat": "day"}, "coat_day"),
        ({"coat": "day", "coat_day": "2026-05-13"}, "coat_day"),
        ({"coat": "day", "coat_day": "0026-05-13"}, "coat_day"),
        ({"coat": "2", "pulls": "some"}, "pulls"),
        ({"coat": "2", "pulls": "501"}, "pulls"),
        ({"coat": "2", "pulls": "5", "total": "4"}, "total"),
        ({"name": "x" * 201}, "name"),
    ],
)
def test_nothing_typed_is_lost_and_the_picture_neither(desk, wrong, at):
    reply = desk.post(WALK, typed(**{"total": "7", "picture": photo(), **wrong}))
    form = reply.context["form"]
    assert list(form.errors) == [at]
    assert form["total"].value() == wrong.get("total", "7")
    assert not Tool.objects.exists()
    assert f"/pictures/{form.stored['small']}.jpg" in reply.text
    good = typed(kept=form["kept"].value())
    assert desk.post(WALK, good).status_code == 302
    assert Picture.objects.get().small == form.stored["small"]


def test_what_is_no_picture_is_said_and_nothing_is_written(desk):
    broken = SimpleUploadedFile("camera.jpg", b"no picture", "image/jpeg")
    reply = desk.post(WALK, typed(picture=broken))
    assert "picture" in reply.context["form"].errors
    assert not Tool.objects.exists()
    assert "picture" in desk.post(WALK, typed(kept="made:up")).context["form"].errors


def test_a_code_that_is_there_offers_to_open_it(desk, morning):
    mold("DECK-7", morning)
    reply = desk.post(WALK, typed(code="deck-7"))
    assert "DECK-7 is there already." in reply.text
    assert 'href="/tools/DECK-7/"' in reply.text
    assert 'value="deck-7"' in reply.text


def test_sent_twice_it_is_one_tool(desk):
    once = typed(coat="2", pulls="1")
    for _twice in range(2):
        assert desk.post(WALK, once).status_code == 302
    assert (Tool.objects.count(), Entry.objects.count()) == (1, 1)


def test_the_next_tool_typed_over_the_page_before_is_not_lost(desk):
    once = typed(code="ZZ-1", coat="2", pulls="1")
    desk.post(WALK, once)
    over = {**once, "code": "ZZ-2", "pulls": "3"}
    form = desk.post(WALK, over).context["form"]
    assert form.errors["__all__"] == [
        "This form has taken in ZZ-1 already. Send it once more to take this one in as well."
    ]
    assert (form["code"].value(), form["pulls"].value()) == ("ZZ-2", "3")
    desk.post(WALK, {**over, "token": form["token"].value()})
    assert list(Tool.objects.order_by("code").values_list("code", flat=True)) == ["ZZ-1", "ZZ-2"]


def test_what_is_written_on_it_finds_it_where_it_can_be_no_code(desk):
    reply = desk.post(WALK, typed(code="hull 9 / p"), follow=True)
    assert "Taken in: HULL-9-P. “HULL 9 / P”, as it is written on it, finds it too." in unescape(reply.text)
    assert Tool.objects.called("Hull 9 / P").get().code == "HULL-9-P"
    assert list(differences(rules())) == []
    assert "HULL-9-P is there already." in desk.post(WALK, typed(code="HULL 9 / P")).text


def test_a_trim_mask_has_neither_recipe_nor_state(desk):
    desk.post(WALK, typed(code="TRIM-1", kind="trim_mask", coat="2", pulls="3"))
    assert Tool.objects.get().release_system is None
    assert not Entry.objects.exists()


def test_each_kind_gets_its_recipe_and_the_words_follow_the_family(desk, morning):
    assert "About when was it last waxed?" in desk.get(WALK).text
    semi = recipe("SEMI", family="semi_permanent")
    for number in range(2):
        mold(f"S-{number}", semi)
    recipe("WAX-PLUG")
    text = desk.get(WALK).text
    assert "as usual: mold SEMI, plug WAX-PLUG" in text
    assert "About when did it last get a coat?" in text
    desk.post(WALK, typed(code="P-1", kind="plug"))
    desk.post(WALK, typed(code="M-1"))
    desk.post(WALK, typed(code="M-2", recipe="WAX"))
    desk.post(WALK, typed(code="M-3", recipe=""))
    codes = dict(Tool.objects.values_list("code", "release_system__code"))
    assert {code: codes[code] for code in ("P-1", "M-1", "M-2", "M-3")} == {
        "P-1": "WAX-PLUG", "M-1": "SEMI", "M-2": "WAX", "M-3": None,
    }  # fmt: skip


def test_what_was_taken_in_by_mistake_is_taken_back(desk, lead, hand, morning):
    desk.post(WALK, typed(coat="2", pulls="1"))
    assert desk.post("/walk/DECK-7/back/").url == WALK
    assert Summary.objects.get().retired
    assert "0 tools taken in today" in desk.get(WALK).text
    assert "Put DECK-7 back" in desk.get(WALK).text
    assert "in use as it was taken in" in desk.post("/walk/DECK-7/back/", {"put": "back"}, follow=True).text
    assert not Summary.objects.get().retired
    mold("OLD", morning)
    assert desk.post("/walk/OLD/back/").status_code == 400
    assert not Summary.objects.get(tool__code="OLD").retired


def test_a_tool_that_was_worked_with_is_not_taken_back(desk):
    desk.post(WALK, typed(coat="2", pulls="1"))
    tool = Tool.objects.get()
    do("log_pull", tool, came_off="free")
    reply = desk.post("/walk/DECK-7/back/", follow=True)
    assert "More is written of DECK-7 already. Retire it on its own page." in reply.text
    assert not Summary.objects.get().retired


def test_a_plug_or_an_insert_is_never_put_on_a_molds_wax(desk):
    add_starter("WAX-INSERT")
    assert "as usual: mold WAX, plug WAX-PLUG, mold insert WAX-INSERT" in desk.get(WALK).text
    reply = desk.post(WALK, typed(code="PL-7", kind="plug"), follow=True)
    assert "With it the recipe WAX-PLUG: common practice, no source" in reply.text
    desk.post(WALK, typed(code="IN-3", kind="insert"))
    desk.post(WALK, typed(code="PL-8", kind="plug"))
    codes = dict(Tool.objects.values_list("code", "release_system__code"))
    assert codes == {"PL-7": "WAX-PLUG", "IN-3": "WAX-INSERT", "PL-8": "WAX-PLUG"}


def test_how_a_tool_stands_is_said_and_said_again(desk, morning):
    tool = mold("DECK-7", morning, pulls=None)
    address = "/tools/DECK-7/starting-state/"
    assert f'href="{address}"' in desk.get("/tools/DECK-7/").text
    assert "About when was it last waxed?" in desk.get(address).text
    first = {"token": str(uuid4()), "coat": "4", "pulls": "2"}
    for _twice in range(2):
        assert desk.post(address, first).status_code == 302
    assert Entry.objects.count() == 1
    again = {"token": str(uuid4()), "coat": "bare"}
    for _twice in range(2):
        assert desk.post(address, again).status_code == 302
    assert Entry.objects.count() == 2
    assert (Summary.objects.get().state.get("phase", "bare"), day_of(tool)) == ("bare", NOW)
    do("log_coat", tool)
    assert "Its history has begun" in desk.get(address).text
    reply = desk.post(address, {"token": str(uuid4()), "coat": "unsure"})
    assert "has begun" in reply.context["form"].errors["__all__"][0]
    assert Entry.objects.count() == 3


@pytest.mark.parametrize(
    ("said", "pulls"),
    [({"total": "41"}, "41"), ({}, "0 since 28 April 2026; those before nobody counted")],
)
def test_what_nobody_counted_is_not_said_to_be_none(desk, said, pulls):
    desk.post(WALK, typed(coat="2", pulls="3", **said))
    facts = {fact.name: fact.words for fact in desk.get("/tools/DECK-7/").context["facts"]}
    assert facts["Pulls in all"] == pulls
    assert facts["Coats in all"] == "0 since 28 April 2026; those before nobody counted"


def test_that_somebody_told_of_it_is_no_work_on_it(desk, morning):
    mold("USED", morning, pulls=4)
    desk.post(WALK, typed())
    board = desk.get("/").context["sections"]
    (wax,) = [section for section in board if section.anchor == "coat"]
    assert ([line.row.tool.code for line in wax.lines], wax.more) == (["USED"], 1)
    assert list(differences(rules())) == []


def test_a_semi_permanent_tool_is_asked_for_release(desk):
    mold("12.PORT", recipe("SEMI", family="semi_permanent"), pulls=None)
    text = desk.get("/tools/12.PORT/starting-state/").text.partition("<main")[2]
    assert "About when did it last get release?" in text
    assert "no release is on it" in text
    assert "wax" not in text.casefold()


def test_a_trim_mask_or_an_unknown_tool_has_no_state(desk, morning):
    mold("TRIM", None, kind="trim_mask", pulls=None)
    for code in ("TRIM", "NONE"):
        assert desk.get(f"/tools/{code}/starting-state/").status_code == 404


@pytest.mark.parametrize("count", [1, 15])
def test_as_many_queries_for_fifteen_as_for_one(desk, count, django_assert_num_queries):
    for number in range(count):
        desk.post(WALK, typed(code=f"M-{number}"))
    with django_assert_num_queries(12):
        assert f"{count} tool" in desk.get(WALK).text


def test_what_was_sent_while_signed_out_is_there_after_signing_in(client, lead, morning):
    assert client.post(WALK, typed(coat="2", pulls="3")).url == "/sign-in/?next=/walk/"
    client.force_login(lead, backend="shared.access.RoleBackend")
    reply = client.get(WALK)
    assert "You were not signed in." in reply.text
    assert 'value="DECK-7"' in reply.text
    assert reply.context["form"]["pulls"].value() == "3"
    assert not Tool.objects.exists()


@pytest.mark.parametrize(("site", "said"), [("http://127.0.0.1:8000", True), ("http://192.168.1.20:8000", False)])
def test_a_shop_that_no_phone_reaches_says_so_first(desk, settings, site, said):
    settings.SITE_URL = site
    for page in (WALK, "/"):
        assert ("No phone reaches this shop yet" in desk.get(page).text) is said


def test_nonsense_in_the_address_is_no_harm(desk):
    assert desk.get(WALK, {"place": "\x00", "kind": "x" * 500, "recipe": "none"}).status_code == 200
