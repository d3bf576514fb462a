"""Find: words, filters, orders, pages, the piece that a keystroke brings, and the table."""

from urllib.parse import parse_qsl

import pytest

from tests.tooling.views.works import ago, do, mold
from tooling.models import Kind, Part, PartRevision, ToolAlias
from tooling.services.search import keep
from tooling.services.tools import add_tool
from tooling.views import tools

pytestmark = [pytest.mark.django_db, pytest.mark.both]
TOOLS = "/tools/"
PAGE_QUERIES, PIECE_QUERIES = 14, 12


@pytest.fixture
def find(client, reader, morning):
    client.force_login(reader, backend="shared.access.RoleBackend")

    def codes(**query):
        reply = client.get(TOOLS, query)
        assert reply.status_code == 200
        return [one.row.tool.code for one in reply.context["shown"]]

    return codes


def test_a_stranger_is_asked_to_sign_in(client):
    assert client.get(TOOLS).url == "/sign-in/?next=/tools/"


def test_every_tool_is_listed_with_its_state(client, find, morning):
    mold("DECK-2A", morning, pulls=2)
    add_tool(code="COAM-TRIM", kind=Kind.TRIM_MASK, name="Cockpit coaming")
    assert find() == ["COAM-TRIM", "DECK-2A"]
    text = client.get(TOOLS).text
    assert "<b>Ready:</b> 2 pulls, then wax." in text
    assert "2 tools." in text


@pytest.mark.parametrize(
    ("words", "found"),
    [
        ("deck", ["DECK-2A", "DECK-2B", "TN-DECK"]),
        ("ECK", ["DECK-2A", "DECK-2B", "TN-DECK"]),
        ("2b", ["DECK-2B"]),
        ("kayak 2a", ["DECK-2A"]),
        ("tender", ["TN-DECK"]),
        ("tëndér", ["TN-DECK"]),
        ("old 7/3", ["TN-DECK"]),
        ("kayak tender", []),
        ("%", []),
        ("_", []),
        ("'", []),
        ('"', []),
        ("deck OR hull", []),
        ("text:deck", []),
        ("dec*", []),
        ("decki", []),
        ("t", ["TN-DECK"]),
        ("  ", ["DECK-2A", "DECK-2B", "TN-DECK"]),
    ],
)
def test_one_box_searches_code_old_code_and_name(find, words, found):
    for code in ("DECK-2A", "DECK-2B"):
        add_tool(code=code, kind=Kind.MOLD, name="Sea kayak 520, upper half")
    tender = add_tool(code="TN-DECK", kind=Kind.MOLD, name="Harbor tender")
    ToolAlias.objects.create(tool=tender, code="OLD 7/3")
    keep([tender.pk])
    assert find(q=words) == found


def test_the_very_code_comes_first_on_the_first_page_only(client, find, monkeypatch):
    monkeypatch.setattr(tools, "PAGE", 2)
    for code in ("A-X9", "X9", "B-X9", "C-X9"):
        add_tool(code=code, kind=Kind.MOLD, name="Mold")
    assert find(q="x9") == ["X9", "A-X9", "B-X9"]
    assert find(q="x9", after="B-X9") == ["C-X9"]
    assert find(q="x9", before="C-X9") == ["X9", "A-X9", "B-X9"]


@pytest.mark.parametrize(
    "typed", ["deck-2a", " DECK-2A ", "old one", "http://shop.test/T/DECK-2A/", "HTTP://X/T/DECK-2A"]
)
def test_a_code_that_is_sent_off_leads_to_its_tool(client, find, typed):
    tool = add_tool(code="DECK-2A", kind=Kind.MOLD, name="Deck")
    ToolAlias.objects.create(tool=tool, code="OLD ONE")
    assert client.get(TOOLS, {"q": typed, "go": "1"}).url == "/tools/DECK-2A/"
    assert client.get(TOOLS, {"q": typed}).status_code == 200
    assert client.get(TOOLS, {"q": "deck", "go": "1"}).status_code == 200


def test_0_and_o_are_the_same_where_nothing_else_is_found(client, find):
    add_tool(code="HULL520", kind=Kind.MOLD, name="Loft kayak")
    assert find(q="hull52o kayak") == ["HULL520"]
    assert "0 and O were taken for the same." in client.get(TOOLS, {"q": "hull52o"}).text
    assert find(q="20") == ["HULL520"]  # within a code, as nothing begins with it
    add_tool(code="HULL52O", kind=Kind.MOLD, name="Another")
    assert find(q="hull52o") == ["HULL52O"]


def test_nothing_found_says_what_was_searched_and_keeps_what_was_typed(client, find):
    add_tool(code="M-1", kind=Kind.MOLD, name="Deck")
    text = client.get(TOOLS, {"q": "<b>zz"}).text
    assert "0 tools with “&lt;b&gt;zz”." in text
    assert 'value="&lt;b&gt;zz"' in text
    assert "numbers of parts, places, owners and the words of notes were searched" in text
    assert "Show all tools" in text


def test_nothing_found_offers_near_spellings_that_find_something(client, find):
    add_tool(code="DECK-2A", kind=Kind.MOLD, name="Kayak, laminated by Ægir")
    context = client.get(TOOLS, {"q": "kyaak"}).context
    assert context["others"] == [("kayak", "/tools/?q=kayak")]
    assert client.get(TOOLS, {"q": "kayak laminted"}).context["others"] == [
        ("kayak laminated", "/tools/?q=kayak+laminated")
    ]
    assert client.get(TOOLS, {"q": "kyaak", "kind": "plug"}).context["others"] == []
    assert [tool.code for tool in client.get(TOOLS, {"q": "DECK-ZA"}).context["near"]] == ["DECK-2A"]


def test_the_pages_keep_words_filters_and_order(client, find, monkeypatch):
    monkeypatch.setattr(tools, "PAGE", 2)
    for number in range(5):
        add_tool(code=f"M-{number}", kind=Kind.MOLD, name=f"Deck {9 - number}")
    asked = {"q": "deck", "kind": "mold", "sort": "name", "held": "", "go": "1"}
    seen, address = [], client.get(TOOLS, asked, follow=True)
    while address:
        reply = client.get(TOOLS, asked, follow=True) if not seen else client.get(address)
        seen += [one.row.tool.code for one in reply.context["shown"]]
        address = reply.context["after"]
        if address:
            kept = dict(parse_qsl(address.partition("?")[2]))
            assert {**kept, "after": ""} == {"q": "deck", "kind": "mold", "sort": "name", "after": ""}
    assert seen == ["M-4", "M-3", "M-2", "M-1", "M-0"]
    back = client.get(reply.context["before"])
    assert [one.row.tool.code for one in back.context["shown"]] == ["M-2", "M-1"]
    first = client.get(back.context["before"])
    assert [one.row.tool.code for one in first.context["shown"]] == ["M-4", "M-3"]
    assert first.context["before"] == ""


@pytest.mark.parametrize(
    ("sort", "found"),
    [("code", ["A", "B", "C"]), ("name", ["C", "B", "A"]), ("used", ["B", "A", "C"]), ("left", ["C", "A", "B"])],
)
def test_each_order_from_end_to_end(client, find, morning, monkeypatch, sort, found):
    monkeypatch.setattr(tools, "PAGE", 1)
    mold("A", morning, pulls=1, name="Zebra")
    mold("B", morning, pulls=2, name="Yacht")
    mold("C", morning, name="X~ray")
    sort = "" if sort == "code" else sort
    reply, seen = client.get(TOOLS, {"sort": sort}), []
    while True:
        seen += [one.row.tool.code for one in reply.context["shown"]]
        if not reply.context["after"]:
            break
        reply = client.get(reply.context["after"])
    assert seen == found
    while reply.context["before"]:
        reply = client.get(reply.context["before"])
        assert [one.row.tool.code for one in reply.context["shown"]] == [found[len(seen) - 2]]
        seen.pop()
    assert len(seen) == 1


def test_a_keystroke_brings_the_piece_alone_and_its_address(client, find):
    add_tool(code="M-1", kind=Kind.MOLD, name="Deck")
    reply = client.get(TOOLS, {"q": "de", "kind": "", "sort": ""}, headers={"HX-Request": "true"})
    assert reply["HX-Replace-Url"] == "/tools/?q=de"
    assert "HX-Request" in reply["Vary"]
    assert "<h1" not in reply.text
    assert "M-1" in reply.text
    whole = client.get(TOOLS, headers={"HX-Request": "true", "HX-History-Restore-Request": "true"})
    assert "<h1" in whole.text


def test_pictures_or_list(client, find):
    add_tool(code="M-1", kind=Kind.MOLD, name="Deck")
    assert 'class="draw"' in client.get(TOOLS).text
    assert 'class="finds flat"' in client.get(TOOLS, {"view": "list"}).text


def test_the_table_has_all_pages_and_nothing_that_a_spreadsheet_runs(client, find, morning, monkeypatch):
    mold("DECK", morning, pulls=1, name="=1+1", owner="@home")
    for number in range(5):
        add_tool(code=f"M-{number}", kind=Kind.TRIM_MASK, name="-2")
    monkeypatch.setattr(tools, "PAGE", 2)
    address = client.get(TOOLS, {"sort": "name"}).context["table"]
    reply = client.get(address)
    assert reply.streaming
    lines = b"".join(reply.streaming_content).decode("utf-8-sig").splitlines()
    assert lines[0].startswith("code,kind,name,state,pulls left")
    assert len(lines) == 7
    deck = next(line for line in lines if line.startswith("DECK"))
    assert deck == "DECK,mold,'=1+1,\"Ready: 3 pulls, then wax.\",3,1,2026-05-11 21:40,,,,WAX,'@home"
    assert "M-0,trim mask,'-2,,,,,,,,," in lines


def test_the_table_says_times_with_their_dates(client, find, morning):
    for code, ahead in (("TODAY", 2), ("LATER", 30)):
        do("lay_up", mold(code, morning), at=ago(minutes=5), earliest_pull=ago(hours=-ahead))
    table = b"".join(client.get("/tools.csv").streaming_content).decode()
    assert "not before 2026-05-12 09:40" in table
    assert "not before 2026-05-13 13:40" in table
    assert "not before tomorrow 13:40" in client.get(TOOLS).text


@pytest.mark.parametrize(
    "query",
    [{"after": ""}, {"before": "\x00"}, {"after": "x~", "sort": "left"}, {"after": "9" * 50 + "~A", "sort": "left"}]
    + [{"after": mark + "~A", "sort": "used"} for mark in ("x", "2026-01-01", "2026-13-01T00:00:00+00:00")]
    + [{"sort": "used", "after": mark + "~5"} for mark in ("0001-01-01T00:00:00+14:00", "9999-12-31T23:59:59-14:00")]
    + [{"after": "garbage"}, {"after": "garbage", "q": "deck"}, {"sort": "left", "after": "0~999999999"}],
)
def test_a_bad_page_is_no_harm(find, query):
    add_tool(code="M-1", kind=Kind.MOLD, name="Deck")
    assert find(**query) == ["M-1"]


@pytest.mark.parametrize("words", ["\x00", "x" * 101])
def test_words_that_cannot_be_searched_are_said_at_the_box(client, find, words):
    add_tool(code="M-1", kind=Kind.MOLD, name="Deck")
    reply = client.get(TOOLS, {"q": words})
    assert reply.context["form"].errors
    assert 'id="id_q_error"' in reply.text


@pytest.mark.parametrize("count", [1, 30])
def test_as_many_queries_for_thirty_rows_as_for_one(client, find, morning, count, django_assert_num_queries):
    for number in range(count):
        mold(f"M-{number}", morning)
    with django_assert_num_queries(PAGE_QUERIES):
        assert len(find()) == count
    with django_assert_num_queries(PAGE_QUERIES + 3):  # whose very code, serial number or part it is
        assert len(find(q="tool")) == count
    with django_assert_num_queries(PIECE_QUERIES):
        client.get(TOOLS, {"q": "tool"}, headers={"HX-Request": "true"})


def test_a_part_and_a_serial_number_lead_on_from_find_and_from_the_wall(client, sign_in, morning):
    for number in ("SK-HULL", "SK-HULL-2", "SK-HULL-3", "SK-HULL-4"):
        PartRevision.objects.create(part=Part.objects.create(number=number), name="Hull")
    do("lay_up", mold("M-1", morning), at=ago(hours=1), part="SK-HULL", serial="0125")
    page = sign_in("station").get(TOOLS, {"q": "sk-hull"})
    assert [one.number for one in page.context["parts"][0]] == ["SK-HULL", "SK-HULL-2", "SK-HULL-3"]
    assert '<a class="link-line" href="/parts/SK-HULL/">' in page.text
    assert 'href="/parts/?q=sk-hull"' in page.text
    assert '<a href="/serials/">Serials</a>' in page.text
    for typed, there in (("sk-hull", "/parts/SK-HULL/"), ("0125", "/serials/0125/"), ("M-1", "/tools/M-1/")):
        assert client.get(TOOLS, {"q": typed, "go": "1", "wall": "1"}).url == there
