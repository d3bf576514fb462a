"""What tags say: of tools, of places, of tools that are held; in a person's units, and in few queries for many."""

from decimal import Decimal

import pytest

from shared.units import US
from tests.tooling.views.works import NOW, ago, do, mold, open_shop
from tooling.models import Person, Place, Shop, Summary, Tool
from tooling.selectors import holds, tag_lines
from tooling.selectors.tags import held_tags, place_tags, tool_tags
from tooling.words import on_tags

pytestmark = pytest.mark.django_db


@pytest.fixture
def rack(db):
    return Place.objects.create(code="A-0", name="Rack A, floor")


@pytest.fixture
def hull(rack):
    return mold(
        "TN-HULL", open_shop(), place=rack, hand="L", owner="a customer", owner_ref="C-12", matched_set="TENDER",
        max_service_c=Decimal(60), mass_kg=Decimal(64), lift="trolley and two",
    )  # fmt: skip


def lines(tag) -> list[str]:
    return [
        " · ".join(f"{piece.before} {piece.words}".strip() for piece in line).replace("\N{NO-BREAK SPACE}", " ")
        for line in tag.lines
    ]


def test_a_tool_says_all_that_does_not_go_stale(hull):
    tag = tool_tags([hull.pk], NOW)[hull.pk]
    assert (tag.code, tag.kind, tag.name) == ("TN-HULL", "mold", hull.name)
    assert lines(tag) == [
        "Left-hand mold · home Rack A, floor · A-0",
        "Matched set TENDER",
        "Owner: a customer · ref. C-12",
        "Heat it to at most 60 °C",
        "64 kg · Lift: trolley and two",
    ]
    assert tag.pulls == "pulls since wax"
    assert tag.caution.startswith("Resin, hardener, wax, solvent: no flame")


def test_it_is_said_in_the_units_of_the_person_and_a_limit_is_never_rounded_up(hull):
    hull.max_service_c = Decimal("55.55")
    hull.save()
    tag = tool_tags([hull.pk], NOW, US)[hull.pk]
    assert lines(tag)[-2:] == ["Heat it to at most 131.99 °F", "about 141 lb · Lift: trolley and two"]


def test_a_repair_lowers_how_hot_it_may_get(hull):
    do("repair", hull, at=ago(days=1), stands=Decimal(45))
    assert "Heat it to at most 45 °C" in lines(tool_tags([hull.pk], NOW)[hull.pk])


def test_a_bare_trim_mask_says_what_it_is(db):
    rack = Place.objects.create(code="C-1", name="Rack C")
    mask = mold("COAM-TRIM", None, pulls=None, kind="trim_mask", place=rack)
    tag = tool_tags([mask.pk], NOW)[mask.pk]
    assert (lines(tag), tag.pulls) == (["Trim mask · home Rack C · C-1", "Lift: ask the lead"], "")
    for words in (
        "Cutter, dust",
        "respirator",
        "No gloves at a turning cutter",
        "feed against the turn",
        "data sheet",
    ):
        assert words in tag.caution


def test_nobody_said_how_it_is_lifted_is_said(rack):
    silent, weighed = mold("K-1", None, place=rack), mold("K-2", None, place=rack, mass_kg=Decimal(64), lift=" ")
    found = tool_tags([silent.pk, weighed.pk], NOW)
    assert [lines(found[one.pk])[-1] for one in (silent, weighed)] == [
        "Lift: ask the lead",
        "64 kg · Lift: ask the lead",
    ]


def test_a_retired_tool_says_so_first_and_counts_no_pulls(hull):
    Summary.objects.filter(tool=hull).update(retired=True)
    tag = tool_tags([hull.pk], NOW)[hull.pk]
    assert (lines(tag)[0], tag.pulls) == ("Retired: not to be used", "")


@pytest.mark.parametrize(("family", "film", "stuff"), [
    ("paste_wax", False, "wax,"), ("semi_permanent", False, "release liquid,"), ("paste_wax", True, "wax, PVA,"),
])  # fmt: skip
def test_a_caution_names_what_is_handled_at_the_tool(family, film, stuff):
    for kind in ("plug", "mold", "insert"):
        said = on_tags.caution(kind, family, film=film)
        for words in ("Resin, hardener, ", stuff, "no flame", "gloves, eyes, skin", "data sheet"):
            assert words in said
        assert ("wax" in said) is (family == "paste_wax")
        assert ("PVA" in said) is film
        assert [word in said for word in ("respirator", "Parts pop")] == [kind == "plug", kind != "plug"]


def test_another_app_adds_lines(hull, monkeypatch):
    monkeypatch.setattr(tag_lines, "_lines", [])

    def rough(tools, system):
        return dict.fromkeys(tools, f"rough cut, {system}")

    tag_lines.register(rough)
    tag_lines.register(rough)
    assert lines(tool_tags([hull.pk], NOW)[hull.pk])[1:3] == ["rough cut, metric", "Matched set TENDER"]


def test_many_take_no_more_queries_than_one(hull, django_assert_num_queries):
    with django_assert_num_queries(5):
        tool_tags([hull.pk], NOW)
    more = [mold(f"K-{number}", None, place=hull.place) for number in range(12)]
    with django_assert_num_queries(5):
        found = tool_tags([*(tool.pk for tool in more), hull.pk], NOW)
    assert list(found) == [*(tool.pk for tool in more), hull.pk]


def test_a_place_says_where_it_is_and_what_it_carries(rack):
    shelf = Place.objects.create(
        code="A-1", name="Shelf 1", parent=rack, max_load_kg=Decimal(150), height_mm=Decimal(900)
    )
    found = place_tags([shelf.pk, rack.pk])
    assert (lines(found[shelf.pk]), found[shelf.pk].load) == (
        ["In Rack A, floor", "Height 900 mm"],
        "At most 150\xa0kg",
    )
    assert (lines(found[rack.pk]), found[rack.pk].load) == ([], ""), "a rack is no board"
    assert place_tags([shelf.pk], US)[shelf.pk].load == "At most 330\xa0lb", "never more than it carries"
    Place.objects.filter(pk=shelf.pk).update(max_load_kg=None)
    assert place_tags([shelf.pk])[shelf.pk].load == "Load not known: ask the lead"


def test_a_held_tag_says_every_hold_that_stands(hull):
    do("hold", hull, Person.objects.named("Jonas"), at=ago(hours=3), reason="chip at the transom")
    do("hold", hull, Person.objects.named("Mara"), at=ago(hours=2), reason="crack")
    tag = held_tags([hull.pk, mold("K-1", None).pk], NOW)[hull.pk]
    assert [(one.why, one.by) for one in tag.reasons] == [("“chip at the transom”", "Jonas"), ("“crack”", "Mara")]
    assert tag.reasons[0].since == "Tue 12 May 2026, 04:40"
    assert (tag.says, tag.more) == ("Held: do not use", ("and 1 reason more: scan",))
    assert tag.comes_off == "Comes off when someone has looked at it and freed it."


def test_the_worst_of_a_reason_comes_first(hull):
    do("log_pull", hull, at=ago(hours=1), came_off="tight", tool_damaged=True)
    why = held_tags([hull.pk], NOW)[hull.pk].reasons[0].why
    assert why.startswith("The tool is marked, a part came off tight")


def test_formal_records_want_someone_else_and_what_is_free_has_no_tag(hull):
    assert held_tags([hull.pk], NOW) == {}
    Shop.objects.update(formal_records=True)
    do("hold", hull, at=ago(hours=1))
    tag = held_tags([hull.pk], NOW)[hull.pk]
    assert [one.why for one in tag.reasons] == ["Stopped"]
    assert "someone else has looked at it" in tag.comes_off


def test_what_was_held_for_long_hides_no_reason_of_another(hull, monkeypatch):
    monkeypatch.setattr(holds, "_MOST", 3)
    do("hold", hull, at=ago(days=3), reason="crack")
    for hours in range(4):
        do("log_pull", hull, at=ago(hours=20 - hours), came_off="free")
    other = mold("K-1", None)
    do("hold", other, at=ago(hours=2), reason="chip")
    do("hold", other, at=ago(hours=1), reason="soft")
    found = held_tags([hull.pk, other.pk], NOW)
    assert [[one.why for one in tag.reasons] for tag in found.values()] == [["“crack”"], ["“chip”", "“soft”"]]


def test_a_retired_tool_has_no_held_tag(hull):
    do("hold", hull, at=ago(hours=2), reason="crack")
    do("retire", hull, at=ago(hours=1), reason="worn out")
    Summary.objects.filter(tool=hull).update(held_since=ago(hours=2))
    assert (held_tags([hull.pk], NOW), list(Tool.objects.held())) == ({}, [])
