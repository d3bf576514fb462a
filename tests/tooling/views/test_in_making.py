"""What is in the making: the page of all of it, the panel of one, and the steps of each kind, kept by a lead."""

import re

import pytest
from django.urls import reverse

from tests.tooling.views import works
from tooling.models import Entry, Kind, MakingStep
from tooling.services.making_steps import STARTERS, Step, add_starter, set_steps, steps_of
from tooling.services.tools import add_tool

pytestmark = pytest.mark.django_db
TWO = [Step("Roughed"), Step("Waxed", "coat")]


@pytest.fixture
def plug(morning):
    set_steps("plug", TWO)
    return add_tool(code="P-1", kind=Kind.PLUG, name="Plug", release_system=morning, in_making=True)


def typed(*steps, **more):
    """The form of a list as a browser sends it, with the row for one more."""
    rows = {}
    for number, one in enumerate((*steps, Step(""))):
        rows |= {f"name.{number}": one.name, f"by_entry.{number}": one.by_entry, f"note.{number}": one.note}
    return rows | more


@pytest.fixture
def keep(sign_in):
    """Sends the list of plugs as a lead, over the one that stands; gives the answer."""
    client, address = sign_in("lead"), "/making/steps/?kind=plug"

    def sent(*steps, **more):
        read = more.pop("read") if "read" in more else client.get(address).context["read"]
        return client.post(address, typed(*steps, read=read, **more))

    return sent


def test_the_page_draws_the_steps_and_says_what_waits_for_what(sign_in, plug):
    add_tool(code="M-1", kind=Kind.MOLD, name="Mold", made_from=plug, in_making=True)
    works.do("make_step", plug, step="Roughed", at=works.ago(days=2))
    page = sign_in("hand").get("/making/").text
    assert page.count("<h1") == 1
    assert "M-1 waits for it." in page
    assert "Waits for P-1, which is in the making: Roughed." in page
    assert 'href="/tools/P-1/coat/">Next: Waxed' in page
    assert '<li class="now" aria-current="step">' in page
    assert "no gloves" in page


@pytest.mark.parametrize("role", ["hand", "lead"])
@pytest.mark.parametrize("address", ["/making/", "/tools/P-1/", "/"])
def test_from_there_the_next_step_is_one_tap(sign_in, plug, role, address):
    client = sign_in(role)
    page = client.get(address).text
    assert page.count("Cutter: no gloves") == 1
    form = page.partition('action="/tools/P-1/step/"')[2].partition("</form>")[0]
    sent = dict(re.findall(r'name="(\w+)" value="([^"]*)"', form))
    assert client.post("/tools/P-1/step/", sent).url == "/tools/P-1/"
    assert Entry.objects.get().payload["step"] == "Roughed"


def test_a_reader_sees_it_without_deeds_and_an_empty_shop_says_what_to_do(sign_in, morning, plug):
    client = sign_in("reader")
    page = client.get("/making/").text
    assert "Next: Roughed." in page
    assert "<form method" not in page.partition("<main")[2]
    works.do("accept", plug)
    assert "No tool is in the making." in client.get("/making/").text


def test_the_page_of_a_tool_shows_how_it_is_made_and_folds_how_it_was(sign_in, plug):
    works.do("make_step", plug, step="Roughed", at=works.ago(days=2))
    client = sign_in("lead")
    assert "How it is made" in client.get("/tools/P-1/").text
    works.do("log_coat", plug, at=works.ago(days=1))
    page = client.get("/tools/P-1/").text
    assert "All steps are done: to be accepted." in page
    assert "In the making: Waxed." in page
    works.do("accept", plug)
    page = client.get("/tools/P-1/").text
    assert "How it was made" in page
    works.mold("M-9", plug.release_system)
    assert "How it" not in client.get("/tools/M-9/").text


def test_the_board_says_what_is_next_and_only_a_lead_is_led_to_accept(sign_in, plug):
    works.do("make_step", plug, step="Roughed", at=works.ago(days=2))
    client = sign_in("hand")
    page = client.get("/").text
    assert "Next: Waxed." in page
    assert 'href="/tools/P-1/coat/"' in page
    works.do("log_coat", plug, at=works.ago(days=1))
    assert 'href="/tools/P-1/step/"' in client.get("/").text
    for address in ("/tools/P-1/step/", "/tools/P-1/note/", "/tools/?q=P-1"):
        assert "In the making:</b> Waxed." in client.get(address).text
    assert 'href="/tools/P-1/accepted/"' in sign_in("lead").get("/").text


def test_a_mold_is_led_to_its_plug_once_that_can_be_laid_up_on(sign_in, plug):
    add_starter("mold")
    add_tool(code="M-1", kind=Kind.MOLD, name="Mold", made_from=plug, in_making=True)
    client = sign_in("hand")
    assert 'href="/tools/M-1/step/"' in client.get("/").text
    works.do("accept", plug, at=works.ago(days=1))
    assert 'href="/tools/P-1/lay-up/">Start lay-up' in client.get("/").text


def test_a_kind_begins_with_its_starter_list(sign_in, db):
    client = sign_in("lead")
    page = client.get("/making/steps/?kind=mold").text
    assert "Common practice, no source" in page
    for _twice in range(2):
        client.post("/making/steps/?kind=mold", {"do": "starter"})
    assert len(steps_of("mold")) == len(STARTERS["mold"])
    page = client.get("/making/steps/?kind=mold").text
    assert "Begin with these" not in page
    assert "common practice, no source" in page
    set_steps("mold", [Step("Cast")])
    assert "common practice" not in client.get("/making/steps/?kind=mold").text
    assert client.get("/making/steps/?kind=nonsense").context["kind"] == "plug"


def test_a_list_is_kept_put_in_order_and_put_back(keep, plug, client):
    page = client.get("/making/steps/?kind=plug")
    answer = keep(*TWO, Step("Filled"), do="keep", read=page.context["read"])
    assert [one.name for one in steps_of("plug")] == ["Roughed", "Waxed", "Filled"]
    shown = client.get(answer.url)
    keep(*steps_of("plug"), do="earlier.2")
    assert [one.name for one in steps_of("plug")] == ["Roughed", "Filled", "Waxed"]
    late = client.post(answer.url, {"do": "put_back", "was": shown.context["was"]})
    assert "It was changed since" in late.text
    gone = keep(*steps_of("plug"), do="out.0")
    assert [one.name for one in steps_of("plug")] == ["Filled", "Waxed"]
    client.post(gone.url, {"do": "put_back", "was": client.get(gone.url).context["was"]})
    assert [one.name for one in steps_of("plug")] == ["Roughed", "Filled", "Waxed"]


def test_what_cannot_stand_there_is_marked_at_its_row_and_kept(keep, plug, client):
    answer = keep(TWO[0], Step("roughed", note="by hand"), do="keep")
    assert [row.wrong for row in answer.context["rows"]] == ["", "“roughed” stands there twice."]
    assert 'value="by hand"' in answer.text
    read = client.get("/making/steps/?kind=plug").context["read"]
    keep(Step("Sanded"), do="keep")
    for old in (read, ""):
        assert "Somebody changed these steps meanwhile" in keep(*TWO, do="keep", read=old).text
        assert steps_of("plug") == [Step("Sanded")]
    marked = keep(Step("", note="by hand"), do="keep", read=read)
    assert marked.context["read"] == read


def test_a_list_is_not_lost_where_somebody_has_to_sign_in_again(client, plug, sign_in):
    client.post("/making/steps/?kind=plug", typed(*TWO, Step("Filled", note="by hand"), do="keep", read="read then"))
    page = sign_in("lead").get("/making/steps/?kind=plug")
    assert 'value="by hand"' in page.text
    assert page.context["read"] == "read then"
    assert steps_of("plug") == TWO


@pytest.mark.parametrize("do", ["", "later.99", "out.-1", "earlier.x", "nonsense", "put_back"])
def test_nonsense_changes_nothing(keep, plug, do):
    assert keep(*TWO, do=do, was="none", read="none").status_code in (200, 302)
    assert steps_of("plug") == TWO


def test_tools_at_a_step_are_counted_and_a_hand_keeps_no_list(keep, plug, client, sign_in):
    works.do("make_step", plug, step="Roughed", at=works.ago(days=2))
    assert "1 tool is at it" in client.get("/making/steps/").text
    assert sign_in("hand").get(reverse("making_steps")).status_code == 403
    assert client.post(reverse("making_steps"), typed(do="keep")).status_code == 403
    assert MakingStep.objects.count() == 2


def test_as_many_queries_for_eight_as_for_one(sign_in, plug, django_assert_num_queries):
    add_starter("mold")
    client = sign_in("hand")
    works.do("make_step", add_tool(code="M-0", kind=Kind.MOLD, name="Mold", in_making=True), step="Curing")
    client.get("/making/")
    with django_assert_num_queries(10):
        client.get("/making/")
    for number in range(1, 8):
        tool = add_tool(code=f"M-{number}", kind=Kind.MOLD, name="Mold", in_making=True, made_from=plug)
        works.do("make_step", tool, step="Curing")
    with django_assert_num_queries(10):
        client.get("/making/")
