"""The list of all tools."""

import pytest

from tests.tooling.views.works import mold
from tooling.models import Kind, ToolAlias
from tooling.services.tools import add_tool
from tooling.views import tools

pytestmark = pytest.mark.django_db
TOOLS = "/tools/"


@pytest.fixture
def find(client, reader, morning):
    client.force_login(reader, backend="shared.access.RoleBackend")

    def codes(**query):
        reply = client.get(TOOLS, query)
        assert reply.status_code == 200
        return [one.row.tool.code for one in reply.context["found"]]

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
        ("deck", ["DECK-2A", "DECK-2B"]),
        ("2b", ["DECK-2B"]),
        ("kayak 2a", ["DECK-2A"]),
        ("tender", ["TN-DECK"]),
        ("old 7/3", ["TN-DECK"]),
        ("kayak tender", []),
        ("DECK", ["DECK-2A", "DECK-2B"]),
        ("%", []),
        ("_", []),
        ("  ", ["DECK-2A", "DECK-2B", "TN-DECK"]),
    ],
)
def test_one_box_searches_code_old_code_and_name(find, words, found):
    for code in ("DECK-2A", "DECK-2B"):
        add_tool(code=code, kind=Kind.MOLD, name="Sea kayak 520, upper half")
    tender = add_tool(code="TN-DECK", kind=Kind.MOLD, name="Harbor tender")
    ToolAlias.objects.create(tool=tender, code="OLD 7/3")
    if words.lower() == "deck":
        found = [*found, "TN-DECK"]
    assert find(q=words) == found


def test_the_very_code_comes_first(find):
    for code in ("A-X9", "X9", "B-X9"):
        add_tool(code=code, kind=Kind.MOLD, name="Mold")
    assert find(q="x9")[0] == "X9"


def test_nothing_found_says_so_and_keeps_what_was_typed(client, find):
    text = client.get(TOOLS, {"q": "<b>zz"}).text
    assert "0 tools with “&lt;b&gt;zz”." in text
    assert 'value="&lt;b&gt;zz"' in text
    assert "Show all tools" in text


def test_the_pages_keep_the_words(client, find, monkeypatch):
    monkeypatch.setattr(tools, "PAGE", 2)
    for number in range(5):
        add_tool(code=f"M-{number}", kind=Kind.MOLD, name="Deck")
    assert find(q="deck", page=2) == ["M-2", "M-3"]
    text = client.get(TOOLS, {"q": "deck", "page": 2}).text
    assert 'href="?q=deck&amp;page=1"' in text
    assert 'href="?q=deck&amp;page=3"' in text
    assert "Here are 3 to 4." in text


@pytest.mark.parametrize("query", [{"page": "0"}, {"page": "-3"}, {"page": "x"}, {"page": "9" * 5000}, {"page": ""}])
def test_a_bad_page_is_no_harm(find, query):
    add_tool(code="M-1", kind=Kind.MOLD, name="Deck")
    assert find(**query) == ["M-1"]


@pytest.mark.parametrize("words", ["\x00", "x" * 101])
def test_words_that_cannot_be_searched_are_said_at_the_box(client, find, words):
    add_tool(code="M-1", kind=Kind.MOLD, name="Deck")
    reply = client.get(TOOLS, {"q": words})
    assert reply.context["form"].errors
    assert 'class="error" id="id_q_error"' in reply.text


@pytest.mark.parametrize("count", [1, 30])
def test_as_many_queries_for_thirty_rows_as_for_one(client, find, morning, count, django_assert_num_queries):
    for number in range(count):
        mold(f"M-{number}", morning)
    with django_assert_num_queries(7):
        assert len(find()) == count
