"""What stands on the tags: out of one shop and into another."""

import pytest

from tests.tooling.sheets.books import cells_at_fault, taken, write_csv
from tests.tooling.sheets.shops import make_empty
from tests.tooling.views.conftest import morning
from tests.tooling.views.works import NOW, mold
from tooling.models import Place, Shop, TagPrint
from tooling.selectors.tag_facts import facts
from tooling.selectors.tags_wanted import wanted
from tooling.services.sheets.exporting import export_shop
from tooling.services.tags.lost import tag_lost
from tooling.services.tags.printed import mark, put_back
from tooling.services.tags.reserved import say_reserved

__all__ = ["morning"]
pytestmark = pytest.mark.django_db
TOOLS = [{"code": "M1", "kind": "mold", "name": "Deck"}]
TAG = {"tool": "m1", "printed_at": "2026-03-02 08:00", "said_code": "M1", "said_name": "Deck"}


def listed():
    return {tag.tool.code: tag.wanted for tag in wanted().select_related("tool")}


def test_what_goes_out_comes_in_equal(tmp_path, morning, lead, hand):
    rack = Place.objects.create(code="A", name="Rack A")
    tools = [mold(f"M{n}", morning, pulls=None, place=rack, mass_kg=n) for n in range(1, 5)]
    mark(facts([tools[0].pk], NOW), by=lead, at=NOW, count=1, given={})
    put_back(mark(facts([tools[1].pk], NOW), by=lead, at=NOW, count=1, given={}), by=lead, at=NOW)
    tag_lost(tools[2], by=hand, recorded_by=hand, at=NOW)
    say_reserved("http://192.168.2.30:8000", shown="http://192.168.2.30:8000", by=lead, at=NOW)
    before = {"M2": "spoilt", "M3": "lost", "M4": "new"}
    assert listed() == before
    export_shop(tmp_path / "a")
    make_empty()
    assert taken(tmp_path / "a")["errors"] == []
    assert listed() == before
    export_shop(tmp_path / "b")
    for sheet in ("tags", "shop"):
        assert (tmp_path / "b" / f"{sheet}.csv").read_text() == (tmp_path / "a" / f"{sheet}.csv").read_text()
    assert Shop.current().tag_address == "http://192.168.2.30:8000"
    assert taken(tmp_path / "a")["written"]["tags"] == 0


def test_a_tool_that_is_there_takes_the_tag_it_has(tmp_path):
    assert taken(write_csv(tmp_path / "a", {"tools": TOOLS}))["errors"] == []
    assert taken(write_csv(tmp_path / "b", {"tags": [TAG]}))["written"]["tags"] == 1
    assert (TagPrint.objects.get().said["name"], listed()) == ("Deck", {})
    assert cells_at_fault(write_csv(tmp_path / "c", {"tags": [{**TAG, "said_name": "Hull"}]})) == [("tags", 2, "tool")]


@pytest.mark.parametrize(
    ("rows", "where"),
    [
        ([{**TAG, "tool": "X"}], (2, "tool")),
        ([{**TAG, "printed_at": "2190-03-02"}], (2, "printed_at")),
        ([{"tool": "M1"}], (2, "printed_at")),
        ([TAG, TAG], (3, "tool")),
        ([{**TAG, "lost_at": "some day"}], (2, "lost_at")),
    ],
)
def test_what_cannot_be_is_said_at_its_cell(tmp_path, rows, where):
    assert cells_at_fault(write_csv(tmp_path / "a", {"tools": TOOLS, "tags": rows})) == [("tags", *where)]
