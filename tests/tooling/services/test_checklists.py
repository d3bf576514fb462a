"""Checklists: each change a version, the one of a moment found, starter lists offered, what cannot stand refused."""

from datetime import UTC, datetime, timedelta

import pytest

from shared.errors import Refused
from tooling.models import Checklist, Kind, Person, Purpose
from tooling.selectors.checklists import checklist_at, version_of, versions
from tooling.services.checklists import STARTERS, Item, add_starter, is_starter, items_of, set_items

pytestmark = pytest.mark.django_db
START = datetime(2026, 3, 2, 8, 0, tzinfo=UTC)
TWO = [Item("Surface: no scratches"), Item("Gloss", "gloss", "GU", "60°", 3)]


def keep(items, days=0, **more):
    return set_items("mold", "look_over", items, by=None, at=START + timedelta(days=days), **more)


def test_each_change_is_a_version_and_the_one_of_a_moment_is_found():
    keep(TWO)
    assert keep([Item("  Surface:  no scratches"), TWO[1]], 1).version == 1  # nothing new, no version
    keep([TWO[1]], 2, read=TWO)
    keep([], 4)
    found = [checklist_at("mold", "look_over", START + timedelta(days=day)) for day in (-1, 0, 3, 5)]
    assert [items_of(one) for one in found] == [[], TWO, [TWO[1]], []]
    assert (found[0], found[3]) == (None, None)  # before the first, and where nothing is asked any more
    assert [(one.version, one.lines) for one in versions("mold", "look_over")] == [(3, 0), (2, 1), (1, 2)]
    assert items_of(version_of("mold", "look_over", 1)) == TWO
    assert checklist_at("mold", "acceptance", START) is None


def test_who_made_it_is_kept_and_a_clock_that_went_back_hides_no_version():
    mara = Person.objects.named("Mara")
    keep(TWO, 3)
    made = set_items("mold", "look_over", TWO[:1], by=mara, at=START)
    assert (made.made_by, made.valid_from) == (mara, START + timedelta(days=3))
    assert checklist_at("mold", "look_over", START + timedelta(days=3)).version == 2


def test_what_was_changed_meanwhile_is_not_written_over():
    keep(TWO)
    with pytest.raises(Refused, match="meanwhile"):
        keep([Item("Edges")], 1, read=[])
    assert Checklist.objects.count() == 1


@pytest.mark.parametrize(
    ("items", "field"),
    [
        ([TWO[0], Item("  ")], "words.1"),
        ([TWO[0], Item("surface: NO scratches")], "words.1"),
        ([Item("x" * 201)], "words.0"),
        ([Item("Gloss", "gloss")], "unit.0"),
        ([Item("Gloss", unit="GU")], "quantity.0"),
        ([Item("Gloss", "gloss", "GU", spots=21)], "spots.0"),
        ([Item("Edges", spots=2)], "spots.0"),
        ([Item(f"Line {number}") for number in range(41)], ""),
    ],
)
def test_what_cannot_stand_in_a_checklist_is_named_where_it_is(items, field):
    with pytest.raises(Refused) as refused:
        keep(items)
    assert refused.value.field == field
    assert not Checklist.objects.exists()


def test_every_kind_has_starter_lists_and_a_list_that_is_there_is_kept():
    assert set(STARTERS) == {(kind, purpose) for kind in Kind.values for purpose in Purpose.values}
    for kind, purpose in STARTERS:
        made = add_starter(kind, purpose, by=None, at=START)
        assert is_starter(kind, purpose, items_of(made))
        assert [one.words for one in items_of(made)] == [str(one.words) for one in STARTERS[kind, purpose]]
    with pytest.raises(Refused, match="already"):
        add_starter("mold", "look_over", by=None, at=START)
