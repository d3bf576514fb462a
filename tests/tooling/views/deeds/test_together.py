"""Several tools coated in one go, at an address that anybody opens."""

from uuid import uuid4

import pytest

from tests.tooling.views.deeds.conftest import errors, happened
from tooling.models import Entry, RecipeVersion, ReleaseSystem, Tool, Wipe
from tooling.services.tins import open_tin
from tooling.services.tools import add_tool

pytestmark = [pytest.mark.django_db, pytest.mark.both]
# Of the page, and of the pieces of it that are fetched anew.
QUERIES = 12
BOTH = "/coats/together/?tool=DECK-2A&tool=HULL-2A"


@pytest.fixture(autouse=True)
def two(client, hand, shop):
    RecipeVersion.objects.update(coats_new=3, coats_again=3, wipe_minutes=15)
    other = add_tool(code="HULL-2A", name="Sea kayak 520, hull", kind="mold", release_system=shop.wax)
    happened.remove(shop.insert)
    for tool in (shop.mold, other):
        happened.strip(tool)
        happened.log_coat(tool)
    client.force_login(hand)
    return shop.mold, other


def send(client, address=BOTH, codes=("DECK-2A", "HULL-2A"), token=None, **typed):
    sent = {"token": str(token or uuid4()), "at": "now", "what": "coat", "tool": codes, **typed}
    return client.post(address, sent)


def on(tool):
    return Entry.objects.filter(tool=tool, kind="coat").count()


def test_what_waits_for_the_same_is_ticked(client):
    page = client.get("/coats/?tool=HULL-2A")
    [(group, _ticked), *_others] = page.context["groups"]
    assert [member.code for member in group.members] == ["DECK-2A", "HULL-2A"]
    assert page.text.count('type="checkbox"') == page.text.count("checked") == 2
    assert "Coat 2 of 3" in page.text


def test_nothing_of_another_recipe_is_ticked(client, shop):
    soft = ReleaseSystem.objects.get(code="SEMI")
    RecipeVersion.objects.create(system=soft, name="Release liquid", family="semi_permanent", coats_new=2)
    for code in ("SOFT", "SOFT-2"):
        add_tool(code=code, name=code, kind="mold", release_system=soft)
    text = client.get(f"/coats/?recipe={shop.wax.code}&tool=HULL-2A").text
    assert text.count("checked") == 2
    assert "No other tool waits" not in text
    happened.log_coat(Tool.objects.get(code="HULL-2A"))
    text = client.get(f"/coats/?recipe={shop.wax.code}&tool=HULL-2A").text
    assert "No other tool waits for the same as HULL-2A." in text
    assert "checked" not in text


def test_one_button_coats_them_and_twice_is_once(client, two, hand, shop):
    tin = open_tin(shop.wax, holder=hand, stuff="coat", lot="14", by=hand)
    assert "One more coat on both" in client.get(BOTH).text
    token, before = uuid4(), [on(tool) for tool in two]
    for _ in range(2):
        assert send(client, token=token, tins=str(tin.pk)).url == BOTH
    assert [on(tool) for tool in two] == [number + 1 for number in before]
    assert {one.payload["lot"] for one in Entry.objects.order_by("-id")[:2]} == {"14"}
    assert "Written on 2 tools." in client.get(BOTH).text


def test_another_person_sees_the_same_clock(client, lead):
    send(client)
    client.force_login(lead)
    pages = client.get(BOTH).text, client.get(BOTH.replace("?", "now/?")).text
    for page in pages:
        assert page.count("2 of 3 coats on") == 2
        assert "data-since" in page
    assert "Written on" not in pages[0]


@pytest.mark.parametrize(
    ("code", "why"),
    [("COAM-TRIM", "it has no release surface"), ("SOFT", "It is on another recipe"), ("NONE", "no tool of this code")],
)
def test_one_that_cannot_be_coated_is_named_and_can_be_left_out(client, two, shop, code, why):
    semi = RecipeVersion.objects.get().system.__class__.objects.get(code="SEMI")
    RecipeVersion.objects.create(system=semi, name="Release liquid", family="semi_permanent")
    add_tool(code="SOFT", name="Soft", kind="mold", release_system=semi)
    before = Entry.objects.count()
    answer = send(client, codes=("DECK-2A", code, "HULL-2A"), note="by the door")
    assert Entry.objects.count() == before
    assert errors(answer)
    assert why in answer.text
    assert "by the door" in answer.text
    assert f'href="{BOTH.replace("&", "&amp;")}"' in answer.text


def test_tags_are_added_one_after_the_other(client):
    added = client.get("/coats/together/?tool=DECK-2A&add=https://molds.example/T/HULL-2A/").url
    assert added == BOTH
    for text, says in (("COAM-TRIM", "no release surface"), ("zzz", "There is no tool zzz"), ("a\x00b", "There is no")):
        page = client.get("/coats/together/", {"tool": ["DECK-2A"], "add": text}, follow=True)
        assert says in page.text
        assert page.context["batch"].codes == ("DECK-2A",)


def test_all_are_wiped_and_rubbed_out_in_one_go(client, two):
    before = [on(tool) for tool in two]
    send(client)
    codes = {"tool": ["DECK-2A", "HULL-2A"], "token": str(uuid4())}
    client.post("/coats/together/wiped/", codes)
    assert Wipe.objects.standing().count() == 2
    page = client.get(BOTH)
    assert "data-since" not in page.text
    entries = [one.pk for one in page.context["written"].entries]
    client.post("/coats/together/rub-out/", {**codes, "entry": [*entries, "x"]})
    standing = Entry.objects.filter(kind="coat").standing()
    assert [standing.filter(tool=tool).count() for tool in two] == before


def test_a_station_is_asked_whose_hands(client, station, two):
    client.force_login(station)
    before = Entry.objects.count()
    assert "by" in errors(send(client))
    assert Entry.objects.count() == before
    assert not Wipe.objects.exists()


def test_its_queries_grow_neither_with_history_nor_with_tools(client, two, shop, django_assert_num_queries):
    for _ in range(8):
        happened.log_pull(two[0], came_off="free")
    codes = [add_tool(code=f"M{n}", name="M", kind="mold", release_system=shop.wax).code for n in range(18)]
    two[1].aliases.create(code="OLD/HULL")
    for asked in (["DECK-2A"], ["DECK-2A", "old/hull", *codes]):
        for at in ("", "now/"):
            with django_assert_num_queries(QUERIES):
                page = client.get(f"/coats/together/{at}", {"tool": asked})
            assert len(page.context["batch"].codes) == len(asked)


def test_sent_again_when_one_of_them_is_on_another_recipe_by_now(client, two, shop):
    semi = ReleaseSystem.objects.get(code="SEMI")
    RecipeVersion.objects.create(system=semi, name="Release liquid", family="semi_permanent")
    token = uuid4()
    assert send(client, token=token).url == BOTH
    happened.change_release_system(two[1], release_system="SEMI")
    before = Entry.objects.count()
    assert send(client, token=token).url == BOTH
    assert Entry.objects.count() == before


@pytest.mark.parametrize("codes", ["", "tool=", "tool=%00", "tool=" + "x" * 500, "tool=a/b&tool=../.."])
def test_nonsense_in_the_address_is_a_page(client, codes):
    for at in ("", "now/"):
        assert client.get(f"/coats/together/{at}?{codes}").status_code == 200
