"""The morning board."""

import re
from datetime import date, timedelta

import pytest
from django.urls import reverse

from shared import clock
from tests.tooling.views.works import ago, do, mold, recipe
from tooling.models import Kind, Person, Place, Shop, Tool
from tooling.services import deeds
from tooling.services.tools import add_tool

pytestmark = pytest.mark.django_db
BOARD = "/"


@pytest.fixture
def seen(client, reader):
    """The board as a reader sees it, without the tags."""
    client.force_login(reader, backend="shared.access.RoleBackend")

    def see():
        reply = client.get(BOARD)
        assert reply.status_code == 200
        return reply

    return see


def group(reply, anchor):
    """The words of one group of the board."""
    found = re.search(rf'<section class="part" aria-labelledby="{anchor}">(.*?)</section>', reply.text, re.DOTALL)
    return " ".join(re.sub(r"<[^>]+>", " ", found.group(1)).split()) if found else ""


def test_a_stranger_is_asked_to_sign_in(client):
    assert client.get(BOARD).url == "/sign-in/?next=/"


def test_every_tool_is_in_the_group_of_what_comes_next(seen, morning):
    jonas = Person.objects.named("Jonas")
    laid_up = mold("IN-1", morning)
    do("lay_up", laid_up, jonas, at=ago(hours=16, minutes=10), earliest_pull=ago(minutes=10), serial="0173")
    mold("READY", morning, pulls=2)
    mold("LAST", morning, pulls=3)
    mold("DONE", morning, pulls=4)
    mold("BARE", morning, pulls=None)
    do("hold", mold("HELD", morning), jonas, at=ago(hours=15), reason="chip at the transom")
    do("make_step", mold("NEW", morning, pulls=None, in_making=True), at=ago(days=1), step="second putty coat")
    reply = seen()
    assert "IN-1" in (inside := group(reply, "molds"))
    assert "07:30 time was up" in inside
    assert "Time is up: check it is hard. Lay-up started yesterday 15:30 by Jonas." in inside
    assert re.search(r"2 pulls, then wax READY .* 1 last pull LAST", group(reply, "ready"))
    assert "DONE Tool DONE Wax first: 4 of 4 pulls done. One coat." in group(reply, "coat")
    assert "1 more tool on the racks wants wax or release." in group(reply, "coat")
    assert "Held: somebody stopped it. “chip at the transom”" in group(reply, "held")
    assert "16:40, by Jonas" in group(reply, "held")
    assert "second putty coat." in group(reply, "making")
    assert "One part is in the molds" in reply.text
    assert ", and its time is up" in reply.text
    assert "Two molds can be laid up" in reply.text
    assert "one wants a coat first" in reply.text


def test_a_part_on_a_plug_is_said_so(seen, morning):
    do("lay_up", mold("IN-1", morning), at=ago(hours=1))
    assert "In the molds now" in group(seen(), "molds")
    do("lay_up", mold("PLUG", morning, kind=Kind.PLUG), at=ago(hours=1))
    reply = seen()
    assert "In the molds and on the plugs now" in (inside := group(reply, "molds"))
    assert "Molding on the plug, and no time was set for it." in inside
    assert "Two parts and moldings are in the molds and on the plugs" in reply.text


def test_one_part_in_two_halves_is_one_part_and_each_half_says_so(seen, morning):
    pair = [mold(code, morning, matched_set="Fin") for code in ("FIN-L", "FIN-R")]
    deeds.lay_up_set(
        pair, part="FIN", serial="7", at=ago(hours=2), earliest_pull=ago(hours=1), by=None, recorded_by=None
    )
    do("lay_up", mold("FIN-3", morning, matched_set="Fin"), at=ago(hours=1), part="FIN", serial="8")
    reply = seen()
    assert "Two parts are in the molds, the time of one is up." in " ".join(re.sub(r"<[^>]+>", "", reply.text).split())
    inside = group(reply, "molds")
    assert "One part with FIN-R." in inside
    assert "One part with FIN-L." in inside
    assert inside.count("One part with") == 2


def test_what_comes_first_says_when_it_would_then_be_ready(seen, morning):
    slow = recipe("SLOW", touch_up_coats=3, coat_gap_minutes=60, cure_hours_touch_up=4, pulls_between=4)
    mold("TENDER", slow, pulls=4)
    film = recipe("FILM", film_every_pull=True, film_dry_minutes=30)
    mold("WITH-FILM", film)
    reply = seen()
    # 15 minutes for each of three coats, an hour between them, four to cure
    assert "14:25 if started now TENDER" in group(reply, "coat")
    assert "08:20 if started now WITH-FILM" in group(reply, "soon")
    assert "Film first" in group(reply, "soon")


def test_only_paste_wax_says_wax(seen, morning):
    semi = recipe("SEMI", family="semi_permanent")
    mold("12.PORT", semi, pulls=4)
    mold("12.STBD", semi, pulls=3)
    reply = seen()
    assert "Release first: one coat." in group(reply, "coat")
    assert "Last pull, then release." in group(reply, "ready")
    assert "then wax" not in reply.text


def test_an_insert_that_decides_is_named_and_its_deed_is_done_to_it(client, hand, morning):
    host = mold("HOST", morning)
    rim = mold("RIM-1", morning, pulls=4, kind=Kind.INSERT)
    do("install", rim, at=ago(hours=1), mold=host)
    client.force_login(hand, backend="shared.access.RoleBackend")
    reply = client.get(BOARD)
    assert "This is about RIM-1, which is in it." in group(reply, "coat")
    assert f'href="{reverse("coat", args=["RIM-1"])}"' in reply.text
    assert reply.text.count("<h3") == 1  # the insert has no row of its own while it is in the mold


def test_not_home_leaves_out_what_is_in_use(seen, morning):
    home, bench = (Place.objects.create(code=code, name=name) for code, name in (("A-1", "rack A"), ("B", "bench 2")))
    for code in ("AWAY", "BUSY"):
        do("move", mold(code, morning, place=home), at=ago(hours=5), place=bench)
    do("lay_up", Tool.objects.get(code="BUSY"), at=ago(hours=1))
    assert re.search(r"AWAY .*Last seen at bench 2. Home is rack A.", group(seen(), "home"))
    assert "BUSY" not in group(seen(), "home")


def test_what_is_lent_and_not_back_stands_first_among_not_home(client, hand, morning):
    home, bench = (Place.objects.create(code=code, name=name) for code, name in (("A-1", "rack A"), ("B", "bench 2")))
    do("move", mold("AWAY", morning, place=home), at=ago(days=3), place=bench)
    today = clock.now().astimezone(Shop.current().zone).date()
    for code, days, place in (("LATE", 2, home), ("NO-HOME", 30, None), ("IN-TIME", 0, home)):
        due = today - timedelta(days=days)
        do("lend", mold(code, morning, place=place), at=ago(days=40), person="A yard", until=due)
    client.force_login(hand, backend="shared.access.RoleBackend")
    reply = client.get(BOARD)
    said = group(reply, "home")
    codes = re.findall(r'<h3 class="code"><a [^>]+>([A-Z-]+)<', reply.text.partition('id="home"')[2])
    assert codes == ["NO-HOME", "LATE", "IN-TIME", "AWAY"]
    assert re.search(r"LATE .*Not back since \w+: lent to A yard. Home is rack A.", said)
    assert "It has no home." in said
    assert "Lent to A yard until today." in said
    assert "Four are not home</a>, two of them lent and not back in time." in reply.text
    assert 'href="/tools/LATE/handed-back/"' in reply.text
    assert 'action="/tools/AWAY/home/"' in reply.text


def test_deeds_are_for_those_who_may_log(client, reader, hand, morning):
    mold("READY", morning)
    address = reverse("lay_up", args=["READY"])
    client.force_login(reader, backend="shared.access.RoleBackend")
    assert address not in client.get(BOARD).text
    client.force_login(hand, backend="shared.access.RoleBackend")
    assert f'<a class="deed first" href="{address}">' in client.get(BOARD).text


def test_a_trim_mask_wants_no_coat(seen, morning):
    add_tool(code="COAM-TRIM", kind=Kind.TRIM_MASK, name="Cockpit coaming")
    reply = seen()
    assert group(reply, "coat") == ""
    assert "Nothing waits" in reply.text


def test_an_empty_shop_is_told_what_to_do_first(client, lead):
    client.force_login(lead, backend="shared.access.RoleBackend")
    reply = client.get(BOARD)
    assert "Nothing is on the racks yet" in reply.text
    for name in ("first_place", "first_recipe", "first_tool", "walk", "imports"):
        assert f'href="{reverse(name)}"' in reply.text
    assert not Shop.objects.exists()


@pytest.mark.parametrize("count", [1, 30])
def test_as_many_queries_for_thirty_rows_as_for_one(client, reader, morning, count, django_assert_num_queries):
    for number in range(count):
        mold(f"M-{number}", morning, pulls=number % 5)
    do("hold", mold("HELD", morning), at=ago(hours=1))
    client.force_login(reader, backend="shared.access.RoleBackend")
    with django_assert_num_queries(21):
        assert client.get(BOARD).status_code == 200


def test_a_query_that_nobody_asked_for_is_no_harm(client, reader, morning):
    client.force_login(reader, backend="shared.access.RoleBackend")
    assert client.get(BOARD, {"page": "x", "at": "\x00"}).status_code == 200


def test_a_tool_whose_making_ends_comes_to_its_group(seen, morning):
    tool = mold("NEW", morning, pulls=None, in_making=True)
    do("log_coat", tool, at=ago(hours=20))
    assert "NEW" in group(seen(), "making")
    do("accept", tool, at=ago(hours=1))
    assert "NEW" in group(seen(), "ready")
    do("make_step", tool, at=ago(minutes=30), step="sanded again")
    assert group(seen(), "ready") == ""


def test_a_full_group_says_how_many_more_and_nothing_of_their_use(seen, morning, monkeypatch):
    monkeypatch.setattr("tooling.selectors.board.MOST", 1)
    monkeypatch.setattr("tooling.views.board.MOST", 1)
    for number in range(3):
        mold(f"M-{number}", morning, pulls=4)
        mold(f"R-{number}", morning)
    reply = seen()
    assert "2 more on the racks want wax or release." in (inside := group(reply, "coat"))
    assert "14 days" not in inside
    assert "2 more tools are not shown here." in group(reply, "ready")
    for place in ("selectors.board", "views.board"):
        monkeypatch.setattr(f"tooling.{place}.COUNTED", 1)
    reply = seen()
    assert "More than 1 more on the racks want wax or release." in group(reply, "coat")
    assert "More than 1 more tools are not shown here." in group(reply, "ready")
    assert "more than 1 molds can be laid up" in " ".join(re.sub(r"<[^>]+>", "", reply.text).split()).casefold()


def test_of_a_full_group_those_used_last_are_shown(seen, morning, monkeypatch):
    monkeypatch.setattr("tooling.selectors.board.MOST", 1)
    mold("A", morning)
    mold("B", morning, pulls=1)
    assert "B Tool B" in group(seen(), "ready")


def test_what_is_to_be_looked_over_now_or_soon(seen, morning):
    late = mold("LATE", morning, pulls=4, inspect_every_pulls=3)
    mold("SOON", morning, pulls=1, inspect_every_pulls=3)
    mold("FAR", morning, pulls=0, inspect_every_pulls=3)
    mold("DAY", None, kind=Kind.TRIM_MASK, pulls=None, inspect_every_days=30, built_on=date(2026, 4, 17))
    mold("MADE", morning, pulls=4, inspect_every_pulls=3, in_making=True)
    reply = seen()
    said = group(reply, "look")
    assert re.findall("(LATE|SOON|DAY|FAR|MADE) Tool", said) == ["LATE", "SOON", "DAY"]
    for words in ("A look-over is wanted since 1 pull.", "pulls, then a look-over", "at the latest"):
        assert words in said
    assert "Three tools are to be looked over soon" in reply.text
    assert group(reply, "ready").count("A look-over is wanted.") + group(reply, "coat").count("A look-over is") == 1
    do("inspect", late, passed=False, at=ago(minutes=5))
    assert "LATE" not in group(seen(), "look")
