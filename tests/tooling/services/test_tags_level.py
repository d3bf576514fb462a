"""The list of tags to print stays level with all that stands on a tag, and with nothing else."""

from datetime import date
from decimal import Decimal
from io import StringIO

import pytest
from django.core.management import CommandError, call_command
from django.db import connection
from django.test.utils import CaptureQueriesContext

from shared.units import UNITS, Unit, read
from tests.tooling.views.conftest import morning
from tests.tooling.views.works import NOW, ago, do, mold, recipe
from tooling.models import Place, ReleaseSystem, TagPrint, Tool
from tooling.selectors import tag_lines
from tooling.selectors.tag_facts import facts
from tooling.selectors.tags import tool_tags
from tooling.selectors.tags_wanted import wanted
from tooling.services.catalogue import change_tool
from tooling.services.places import change_place
from tooling.services.recipes import add_version
from tooling.services.tags.printed import mark
from tooling.services.tags.wanted import keep

__all__ = ["morning"]
pytestmark = pytest.mark.django_db

# Another value for every column: a new one wants a line here, and says so.
OTHER = {
    "code": "DECK-2C", "kind": "plug", "name": "Deck, new", "hand": "L", "owner": "a customer", "owner_ref": "C-12",
    "matched_set": "DECK", "lift": "chain hoist", "construction": "glass", "design_ref": "D-7", "note": "chipped",
    "mass_kg": read("42", UNITS["kg"]), "length_mm": read("500", UNITS["mm"]), "width_mm": read("50", UNITS["mm"]),
    "height_mm": read("60", UNITS["mm"]), "max_service_c": read("60", UNITS["°C"]),
    "glass_transition_c": read("80", UNITS["°C"]), "cost": read("900", Unit("", "")), "built_on": date(2025, 5, 2),
    "not_before": date(2026, 5, 2), "inspect_every_pulls": 30, "inspect_every_days": 90, "in_making": True,
    "place": lambda: Place.objects.create(code="B", name="Rack A"),
    "release_system": lambda: recipe("SEMI", family="semi_permanent"),
    "made_from": lambda: mold("PLUG-2", None, kind="plug", pulls=None),
    "in_place_of": lambda: mold("DECK-1", None, pulls=None),
}  # fmt: skip


@pytest.fixture
def deck(morning):
    return mold("DECK-2A", morning, pulls=None, place=Place.objects.create(code="A", name="Rack A"))


def listed():
    return {tag.tool.code: tag.wanted for tag in wanted().select_related("tool")}


def printed(*tools, by):
    mark(facts((one.pk for one in tools), NOW), by=by, at=NOW, count=len(tools), given={})
    assert listed() == {}


def test_every_column_has_its_line():
    assert {one.name for one in Tool._meta.concrete_fields} - {"id", "as_typed"} == OTHER.keys()


@pytest.mark.parametrize("column", OTHER)
def test_it_is_wanted_where_another_tag_would_be_printed_and_only_there(deck, lead, column):
    value = OTHER[column]() if callable(OTHER[column]) else OTHER[column]
    keep([deck.pk])
    mark(facts([deck.pk], NOW), by=lead, at=NOW, count=1, given={})
    before = tool_tags([deck.pk], NOW)[deck.pk]
    change_tool(deck, by=lead, at=NOW, columns={column: value})
    differs = tool_tags([deck.pk], NOW)[deck.pk] != before
    assert (TagPrint.objects.get(tool=deck).wanted != "") is differs


def test_a_repair_with_a_weaker_filler_and_what_takes_it_back(deck, lead):
    change_tool(deck, by=lead, at=NOW, columns={"max_service_c": read("90", UNITS["°C"])})
    printed(deck, by=lead)
    do("repair", deck, at=ago(hours=3), stands=Decimal(95))
    assert listed() == {}
    weak = do("repair", deck, at=ago(hours=2), stands=Decimal(45))
    assert listed() == {"DECK-2A": "changed"}
    again = do("correct", weak, reason="misread", changes={"value": Decimal(92)})
    assert listed() == {}
    weaker = do("correct", again, reason="read again", changes={"value": Decimal(50)})
    assert listed() == {"DECK-2A": "changed"}
    do("void", weaker, reason="another tool")
    assert listed() == {}


def test_a_new_surface_takes_the_fillers_with_it(deck, lead):
    do("repair", deck, at=ago(hours=2), stands=Decimal(45))
    printed(deck, by=lead)
    do("resurface", deck, at=ago(hours=1))
    assert listed() == {"DECK-2A": "changed"}


def test_another_code_of_its_home(deck, lead):
    printed(deck, by=lead)
    change_place(deck.place, {"code": "A-1"})
    assert listed() == {"DECK-2A": "moved"}


def test_a_version_of_another_family_has_another_caution(deck, lead):
    printed(deck, by=lead)
    add_version(ReleaseSystem.objects.get(code="WAX"), at=NOW, columns={"family": "semi_permanent", "name": "Film"})
    assert listed() == {"DECK-2A": "changed"}


def test_back_from_retirement_with_the_tag_of_a_retired_tool(deck, lead):
    do("retire", deck, reason="worn out")
    printed(deck, by=lead)
    do("reinstate", deck, reason="wanted once more")
    assert listed() == {"DECK-2A": "changed"}


def test_a_line_of_another_app(deck, lead, monkeypatch):
    monkeypatch.setattr(tag_lines, "_lines", [])
    printed(deck, by=lead)
    tag_lines.register(lambda tools, system: dict.fromkeys(tools, "rough cut"))
    keep([deck.pk])
    assert listed() == {"DECK-2A": "changed"}


def test_check_history_says_where_the_list_is_behind_and_relay_mends_it(deck, lead):
    printed(deck, by=lead)
    call_command("check_history", stdout=StringIO())
    TagPrint.objects.update(wanted="lost")
    out = StringIO()
    with pytest.raises(CommandError, match="1 faults"):
        call_command("check_history", stdout=out)
    assert "DECK-2A: the list of tags to print does not know how it stands" in out.getvalue()
    call_command("check_history", "--relay", stdout=StringIO())
    assert listed() == {}


def test_many_are_locked_in_one_order(deck, morning):
    tools = [mold(f"K-{number}", morning, pulls=None) for number in range(3)]
    with CaptureQueriesContext(
        connection,
    ) as made:
        keep(tool.pk for tool in reversed(tools))
    [read_rows] = [one["sql"] for one in made if '"tooling_tagprint"' in one["sql"] and "SELECT" in one["sql"]]
    assert 'ORDER BY "tooling_tagprint"."tool_id"' in read_rows
