"""Tool sets: lines come in, are changed, confirmed and leave; a new revision takes them over; what is refused."""

import pytest

from shared.clock import now
from shared.errors import Refused
from tests.tooling.views.deeds.conftest import happened
from tests.tooling.views.deeds.conftest import shop as shop
from tooling.models import Kind, Part, PartChange, SetLine
from tooling.selectors.about import part_changes
from tooling.services import tool_sets
from tooling.services.catalogue import change_tool
from tooling.services.parts import add_revision
from tooling.services.tools import add_tool
from tooling.words.about import part_changed

pytestmark = pytest.mark.django_db


@pytest.fixture
def deck(shop, lead):
    """The revision, and how a lead adds to it."""
    revision = Part.objects.get().revisions.get()
    who = {"by": lead, "at": now()}
    return revision, who, lambda role, tool=None, **more: tool_sets.add_line(revision, role, tool=tool, **who, **more)


def halves(retired=""):
    found = [add_tool(code=f"FIN-{one}", name="Fin", kind=Kind.MOLD, matched_set="Fin") for one in "LR"]
    for tool in found:
        if tool.code == retired:
            happened.retire(tool, reason="worn")
    return found


def test_a_set_is_said_in_order_and_what_was_changed_is_kept(shop, deck):
    revision, who, add = deck
    add("hardware", item="8 bolts  M6")
    add("trim_mask", shop.mask)
    (insert,) = add("insert", shop.insert, order=2, required=False)
    add("mold", shop.mold)
    tool_sets.change_line(insert, columns={"required": True, "alternative": "rim"}, **who)
    assert [line.what for line in revision.tool_set.in_order()] == ["DECK-2A", "HATCH7", "COAM-TRIM", "8 bolts M6"]
    tool_sets.take_out(revision.tool_set.get(tool=shop.mask), **who)
    assert revision.tool_set.count() == 3
    said = list(PartChange.objects.filter(field="tool_set").order_by("pk").values_list("before", "after"))
    assert said[-2:] == [
        ("insert HATCH7, no. 2, optional", "insert HATCH7, no. 2, alternative rim"),
        ("trim_mask COAM-TRIM", ""),
    ]
    assert part_changed(part_changes(revision.part)[0][0], "metric").what == "Tool set: COAM-TRIM taken out"


def test_a_new_revision_takes_the_set_over_and_nobody_has_confirmed_it(shop, deck):
    revision, who, add = deck
    add("mold", shop.mold)
    add("insert", shop.insert, order=1, alternative="rim")
    new = add_revision(revision.part, columns={"revision": "B"}, like=revision, **who)
    kept = list(new.tool_set.order_by("pk").values_list("tool", "order", "alternative", "confirmed"))
    assert kept == [(shop.mold.pk, None, "", False), (shop.insert.pk, 1, "rim", False)]
    assert [line.what for line in tool_sets.confirm(new, lines=[new.tool_set.get(role="mold")], **who)] == ["DECK-2A"]
    assert [line.what for line in tool_sets.confirm(new, **who)] == ["HATCH7"]
    assert tool_sets.confirm(new, **who) == []
    assert not SetLine.objects.filter(confirmed=False).exists()


@pytest.mark.parametrize(
    ("role", "tool", "more", "field", "says"),
    [
        ("mold", "mask", {}, "tool", "Only a mold can stand here as a mold; COAM-TRIM is a trim mask."),
        ("insert", "mold", {}, "tool", "Only a mold insert"),
        ("mold", None, {}, "tool", "Say which tool"),
        ("mold", "mold", {"item": "x"}, "item", "Only hardware is said in words"),
        ("hardware", None, {"item": "  "}, "item", "Say in words"),
        ("hardware", "mask", {"item": "bolts"}, "tool", "leave the tool empty"),
        ("hardware", None, {"item": "CLAMPS"}, "item", "in the set already"),
        ("trim_mask", "known", {}, "tool", "KNOWN is in this set already"),
        ("trim_mask", "gone", {}, "tool", "GONE is retired"),
    ],
)
def test_what_cannot_stand_in_a_set_is_refused(shop, deck, role, tool, more, field, says):
    known, gone = (add_tool(code=code, name="Mask", kind=Kind.TRIM_MASK) for code in ("KNOWN", "GONE"))
    happened.retire(gone, reason="worn")
    revision, _who, add = deck
    add("trim_mask", known)
    add("hardware", item="clamps")
    with pytest.raises(Refused, match=says) as refused:
        add(role, {"known": known, "gone": gone}.get(tool) or getattr(shop, tool or "", None), **more)
    assert (refused.value.field, revision.tool_set.count()) == (field, 2)


def test_halves_come_and_go_together(deck):
    revision, who, add = deck
    left, right = halves()
    with pytest.raises(Refused, match="FIN-L closes on one part with FIN-R"):
        add("mold", left)
    assert [line.what for line in add("mold", left, with_halves=True)] == ["FIN-L", "FIN-R"]
    line = revision.tool_set.get(tool=right)
    with pytest.raises(Refused, match="FIN-R closes on one part with FIN-L"):
        tool_sets.take_out(line, **who)
    assert len(tool_sets.take_out(line, with_halves=True, **who)) == 2
    assert not revision.tool_set.exists()


def test_a_half_that_is_retired_is_not_asked_for(deck):
    left, _right = halves(retired="FIN-R")
    assert len(deck[2]("mold", left)) == 1


def test_a_tool_in_a_set_stays_what_it_is(shop, deck):
    tool = add_tool(code="NEW", name="New", kind=Kind.MOLD)
    deck[2]("mold", tool)
    with pytest.raises(Refused, match="tool set of SK520-DECK"):
        change_tool(tool, by=deck[1]["by"], at=now(), columns={"kind": "insert"})
