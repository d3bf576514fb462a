"""What tags say: of tools, of places, of tools that are held; in a person's units, and in few queries for many."""

from decimal import Decimal

import pytest

from shared.units import US
from tests.tooling.views.works import NOW, ago, do, mold, open_shop
from tooling.models import Person, Place, Shop
from tooling.selectors import tag_lines
from tooling.selectors.tags import held_tags, place_tags, tool_tags

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
        "At most 60 °C",
        "64 kg · Lift: trolley and two",
    ]
    assert tag.pulls == "pulls since wax"
    assert tag.caution.startswith("Wax, solvent, peroxide")


def test_it_is_said_in_the_units_of_the_person_and_a_limit_is_never_rounded_up(hull):
    hull.max_service_c = Decimal("55.55")
    hull.save()
    tag = tool_tags([hull.pk], NOW, US)[hull.pk]
    assert lines(tag)[-2:] == ["At most 131.99 °F", "about 141 lb · Lift: trolley and two"]


def test_a_repair_lowers_how_hot_it_may_get(hull):
    do("repair", hull, at=ago(days=1), stands=Decimal(45))
    assert "At most 45 °C" in lines(tool_tags([hull.pk], NOW)[hull.pk])


def test_a_bare_trim_mask_says_what_it_is(db):
    rack = Place.objects.create(code="C-1", name="Rack C")
    mask = mold("COAM-TRIM", None, pulls=None, kind="trim_mask", place=rack)
    tag = tool_tags([mask.pk], NOW)[mask.pk]
    assert (lines(tag), tag.pulls) == (["Trim mask · home Rack C · C-1"], "")
    assert "No gloves at a turning cutter" in tag.caution


def test_another_app_adds_lines(hull, monkeypatch):
    monkeypatch.setattr(tag_lines, "_lines", [])

    def rough(tools, system):
        return dict.fromkeys(tools, f"rough cut, {system}")

    tag_lines.register(rough)
    tag_lines.register(rough)
    assert lines(tool_tags([hull.pk], NOW)[hull.pk])[1:3] == ["rough cut, metric", "Matched set TENDER"]


def test_many_take_no_more_queries_than_one(hull, django_assert_num_queries):
    with django_assert_num_queries(4):
        tool_tags([hull.pk], NOW)
    more = [mold(f"K-{number}", None, place=hull.place) for number in range(12)]
    with django_assert_num_queries(4):
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
    assert (lines(found[rack.pk]), found[rack.pk].load) == ([], "")
    assert place_tags([shelf.pk], US)[shelf.pk].load == "At most 330\xa0lb", "never more than it carries"


def test_a_held_tag_says_every_hold_that_stands(hull):
    do("hold", hull, Person.objects.named("Jonas"), at=ago(hours=3), reason="chip at the transom")
    do("hold", hull, Person.objects.named("Mara"), at=ago(hours=2), reason="crack")
    tag = held_tags([hull.pk, mold("K-1", None).pk], NOW)[hull.pk]
    assert [(one.why, one.by) for one in tag.reasons] == [("“chip at the transom”", "Jonas"), ("“crack”", "Mara")]
    assert tag.reasons[0].since == "Tue 12 May 2026, 04:40"
    assert (tag.says, tag.more) == ("Held: do not use", ("and 1 reason more: scan",))
    assert tag.comes_off == "Comes off when someone has looked at it and let it go."


def test_formal_records_want_someone_else_and_what_is_free_has_no_tag(hull):
    assert held_tags([hull.pk], NOW) == {}
    Shop.objects.update(formal_records=True)
    do("hold", hull, at=ago(hours=1))
    tag = held_tags([hull.pk], NOW)[hull.pk]
    assert [one.why for one in tag.reasons] == ["Stopped"]
    assert "someone else has looked at it" in tag.comes_off
