"""What another app shows on the screens of tooling: a panel, a section of the board, words on its rows, a page."""

import pytest

from tests.tooling.views.works import ago, do, mold
from tooling.models import Kind
from tooling.selectors import board_more, menu, panels
from tooling.selectors.panels import Panel
from tooling.words.lines import Figure, Line
from tooling.words.opening import Clause
from tooling.words.status import Sentence

pytestmark = pytest.mark.django_db


@pytest.fixture
def nothing_more(monkeypatch):
    """Only what the test registers."""
    monkeypatch.setattr(panels, "_panels", panels.defaultdict(list))
    monkeypatch.setattr(board_more, "_sections", [])
    monkeypatch.setattr(board_more, "_beside", [])
    monkeypatch.setattr(menu, "_pages", list(menu.pages()))


def test_a_panel_stands_on_the_pages_of_its_kind_and_says_how_they_stand(sign_in, morning, nothing_more):
    client, said = sign_in("hand"), Sentence("Usable", "12 parts to its next check")
    words = Panel("_message.html", {"words": "Sits on two pins"}, said=said, sheets=("face/demo.css",))
    for of_app in [lambda shown, person: words] * 2:
        panels.register(Kind.TRIM_MASK, of_app)
    mold("TRIM", None, kind=Kind.TRIM_MASK, pulls=None)
    mold("DECK", morning)
    page = client.get("/tools/TRIM/").text
    assert page.count("Sits on two pins") == 1
    assert ("Usable: 12 parts to its next check." in page, "face/demo.css" in page) == (True, True)
    other = client.get("/tools/DECK/").text
    assert ("Sits on two pins" in other, "face/demo.css" in other) == (False, False)
    do("hold", mold("TRIM-2", None, kind=Kind.TRIM_MASK, pulls=None), at=ago(hours=1), reason="chip")
    assert str(client.get("/tools/TRIM-2/").context["said"]).startswith("Held")


def test_a_section_and_words_on_a_row_stand_on_the_board(sign_in, morning, nothing_more):
    do("lay_up", mold("DECK", morning), at=ago(hours=1), part="SK-DECK")
    row = {"tool": mold("TRIM", None, kind=Kind.TRIM_MASK, pulls=None), "tape": None}
    line = Line(row, Figure("2", "parts"), "", "", Sentence("Soon"))
    asked = []

    def parts(morning):
        asked.append(morning)
        return [one.summary.part for one in morning.in_molds]

    of_app = board_more.MoreRows("Of the app", [line], Clause("app", "one more is wanted"))
    for section in [lambda morning: of_app if morning.once(parts) == ["SK-DECK"] else None] * 2:
        board_more.register_section(section)
    board_more.register_section(lambda morning: board_more.MoreRows("Empty", [], Clause("none", "none")))
    board_more.register_beside(lambda morning: {one.tool.pk: ("Cut it.",) for one in morning.in_molds})
    board_more.register_beside(lambda morning: dict.fromkeys(morning.once(parts), ("Nowhere",)))
    page = sign_in("reader").get("/").text
    assert len(asked) == 1
    assert '<a href="#app">One more is wanted</a>' in page
    assert ("Cut it." in page, "Nowhere" in page) == (True, False)
    assert (page.count('<h2 id="app">Of the app</h2>'), "Empty" in page) == (1, False)


def test_a_page_of_another_app_stands_behind_one_that_there_is(sign_in, nothing_more):
    menu.register("wanted", "What is wanted", after="parts")
    menu.register("wanted", "What is wanted")
    page = sign_in("reader").get("/parts/").text
    assert page.count(">What is wanted</a></li>") == 1
    assert page.index(">Parts</a></li>") < page.index(">What is wanted</a></li>") < page.index(">Serials</a></li>")
