"""What a tool is found by besides its code: once, by whom, and never what is another one's."""

import pytest

from shared.errors import Refused
from tests.tooling.sheets.books import content, taken
from tests.tooling.sheets.shops import make_empty
from tests.tooling.sheets.test_roundtrip import export
from tests.tooling.views.conftest import morning as morning
from tests.tooling.views.works import NOW, mold
from tooling.models import Person, Tool, ToolAlias
from tooling.selectors import scans
from tooling.services.older_codes import find_by
from tooling.words.about import changed

pytestmark = pytest.mark.django_db


@pytest.fixture
def deck(morning):
    return mold("DECK", morning, pulls=None)


@pytest.fixture
def ines():
    return Person.objects.named("Ines")


def test_it_is_found_by_it_from_then_on_and_who_said_so_is_kept(deck, ines):
    assert find_by(deck, " old  deck ", by=ines, at=NOW).code == "OLD DECK"
    assert find_by(deck, "OLD DECK", by=ines, at=NOW) is None
    assert find_by(deck, "deck", by=ines, at=NOW) is None
    assert scans.tool("Old Deck") == deck
    said = changed(deck.changes.get(), "si")
    assert (said.what, said.before, said.after, said.who) == ("Found by", "", "OLD DECK", ines)


def test_a_comma_is_none_in_it_so_that_it_comes_back_from_the_sheets_as_one(deck, ines, tmp_path):
    find_by(deck, "ABC, 12", by=ines, at=NOW)
    book = export(tmp_path / "a.xlsx")
    make_empty()
    taken(book)
    assert [alias.code for alias in ToolAlias.objects.all()] == ["ABC 12"]
    assert content(export(tmp_path / "b.xlsx")) == content(book)
    assert scans.tool("abc, 12").code == "DECK"
    assert scans.tool("12") is None


@pytest.mark.parametrize("text", ["HULL", "x" * 81, " , "])
def test_what_is_of_another_one_or_can_be_no_code_is_refused(deck, ines, morning, text):
    mold("HULL", morning, pulls=None)
    with pytest.raises(Refused) as refused:
        find_by(deck, text, by=ines, at=NOW)
    assert "HULL" in refused.value.message or "cannot become a code" in refused.value.message
    assert not Tool.objects.get(pk=deck.pk).changes.exists()
