"""Tool sets: lines come in, are changed, confirmed and leave; a new revision takes them over; what is refused."""

from concurrent.futures import ThreadPoolExecutor
from threading import Barrier

import pytest
from django.db import connection

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


def halves(retired="", of="FIN"):
    found = [add_tool(code=f"{of}-{one}", name="Fin", kind=Kind.MOLD, matched_set=of) for one in "LR"]
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


@pytest.fixture
def fins(deck):
    """Two pairs of halves in a set, of which each could do; how one line is changed; and what they stand in for."""
    revision, who, add = deck
    for of in ("FIN", "GIN"):
        add("mold", halves(of=of)[0], with_halves=True)

    def line(code):
        return revision.tool_set.get(tool__code=code)

    def change(code, other=None, **columns):
        tool_sets.change_line(line(code), columns=columns, stands_in_for=other and line(other), **who)

    return change, lambda: dict(revision.tool_set.in_order().values_list("tool__code", "alternative"))


def test_halves_stand_in_for_halves_together_and_stop_to(fins):
    change, words = fins
    change("GIN-R", "FIN-L")
    assert words() == {"FIN-L": "FIN-L", "FIN-R": "FIN-R", "GIN-L": "FIN-R", "GIN-R": "FIN-L"}
    change("GIN-L", "FIN-L")
    assert words() == {"FIN-L": "FIN-L", "FIN-R": "FIN-R", "GIN-L": "FIN-L", "GIN-R": "FIN-R"}
    change("FIN-R", alternative="")
    assert words() == {"FIN-L": "", "FIN-R": "", "GIN-L": "FIN-L", "GIN-R": "FIN-R"}
    change("FIN-R", alternative="fin-l")
    assert words() == {"FIN-L": "FIN-R", "FIN-R": "FIN-L", "GIN-L": "FIN-L", "GIN-R": "FIN-R"}
    said = PartChange.objects.filter(field="tool_set").order_by("pk").values_list("before", "after")
    assert list(said)[-2:] == [
        ("mold FIN-L", "mold FIN-L, alternative FIN-R"), ("mold FIN-R", "mold FIN-R, alternative FIN-L"),
    ]  # fmt: skip


def test_a_mold_by_itself_stands_in_for_no_half(shop, deck, fins):
    change, words = fins
    before = words()
    deck[2]("mold", shop.mold)
    for line, other in (("DECK-2A", "FIN-L"), ("FIN-L", "DECK-2A"), ("FIN-L", "FIN-R")):
        with pytest.raises(Refused, match="on one part") as refused:
            change(line, other)
        assert refused.value.field == "instead"
    assert words() == {**before, "DECK-2A": ""}
    change("FIN-L", alternative="left")
    alone = add_tool(code="ALONE", name="Fin", kind=Kind.MOLD)
    with pytest.raises(Refused, match="FIN-L closes on one part with FIN-R: ALONE stands in for it only where"):
        deck[2]("mold", alone, alternative="Left")


def test_halves_that_come_in_with_a_word_stand_in_together(deck):
    revision, _who, add = deck
    add("mold", halves()[0], with_halves=True, alternative="left")
    add("mold", halves(of="GIN")[1], with_halves=True, alternative="left")
    words = dict(revision.tool_set.values_list("tool__code", "alternative"))
    assert words == {"FIN-L": "left", "FIN-R": "FIN-R", "GIN-R": "left", "GIN-L": "FIN-R"}


def test_a_tool_in_a_set_stays_what_it_is(shop, deck):
    tool = add_tool(code="NEW", name="New", kind=Kind.MOLD)
    deck[2]("mold", tool)
    with pytest.raises(Refused, match="tool set of SK520-DECK"):
        change_tool(tool, by=deck[1]["by"], at=now(), columns={"kind": "insert"})


@pytest.fixture
def rims(deck):
    """Three lines of mold inserts, of which any may stand in for any."""
    add = deck[2]
    return [add("insert", add_tool(code=f"RIM-{n}", name="Rim", kind=Kind.INSERT))[0] for n in (1, 2, 3)]


def test_what_it_stands_in_for_is_looked_at_again_and_refused_where_it_changed(deck, rims):
    revision, who, _add = deck
    one, two, three = rims
    tool_sets.change_line(two, columns={}, stands_in_for=three, **who)
    stale = SetLine(**{field.attname: getattr(two, field.attname) for field in SetLine._meta.fields})
    stale.alternative = ""
    with pytest.raises(Refused, match="Somebody changed meanwhile what RIM-2 stands in for") as refused:
        tool_sets.change_line(one, columns={}, stands_in_for=stale, **who)
    assert refused.value.field == "instead"
    tool_sets.take_out(SetLine.objects.get(pk=three.pk), **who)
    with pytest.raises(Refused, match="RIM-3 is not in this set any more"):
        tool_sets.change_line(one, columns={}, stands_in_for=three, **who)
    assert dict(revision.tool_set.values_list("tool__code", "alternative")) == {"RIM-1": "", "RIM-2": "RIM-3"}


@pytest.mark.django_db(transaction=True)
def test_two_leads_at_one_set_never_part_what_the_other_joined(deck, rims):
    """One lets 1 stand in for 2, the other 2 for 3, each having read all three as they were."""
    revision, who, _add = deck
    one, two, three = rims

    def join(pair):
        line, other = (SetLine.objects.get(pk=each.pk) for each in pair)
        start.wait(timeout=10)
        try:
            tool_sets.change_line(line, columns={}, stands_in_for=other, **who)
        except Refused as refused:
            return refused.message
        finally:
            connection.close()
        return ""

    for _round in range(6):
        revision.tool_set.update(alternative="")
        start = Barrier(2)
        with ThreadPoolExecutor(2) as leads:
            said = list(leads.map(join, [(one, two), (two, three)]))
        words = dict(revision.tool_set.values_list("tool__code", "alternative"))
        assert words["RIM-2"] == words["RIM-3"] == "RIM-3"
        assert said[1] == ""
        assert words["RIM-1"] == "" if said[0] else words["RIM-1"] == "RIM-2"
