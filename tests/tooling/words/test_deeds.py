"""Which deeds a status offers."""

from datetime import timedelta

import pytest

from tests.tooling.words.samples import NOW, status
from tooling.calc.state import PartIn
from tooling.calc.status import ORDER
from tooling.words.deeds import FILM, next_deeds, other_deeds, stands_out


def names(name, kind="mold", making=False, **given):
    return [deed.name for deed in next_deeds(status(name, **given), kind=kind, making=making)]


@pytest.mark.parametrize("name", ORDER)
@pytest.mark.parametrize("kind", ["plug", "mold", "insert", "trim_mask"])
def test_every_status_of_every_kind_has_few_deeds(name, kind):
    assert len(names(name, kind)) <= 3


def test_the_likeliest_comes_first():
    assert names("ready")[0] == "lay_up"
    assert names("part_in_mold") == ["pulled", "lay_up_done"]
    assert names("needs_touch_up")[0] == "coat"
    assert names("needs_strip")[0] == "strip"
    assert names("needs_film")[0] == "film"
    assert names("held") == ["looked_at"]
    assert names("held", in_mold=PartIn("", "", NOW, None, 1)) == ["looked_at", "pulled"]
    assert names("retired") == []


def test_what_cannot_be_laid_up_by_itself_is_not():
    assert names("ready", "insert") == ["coat"]
    assert names("held", making=True) == ["looked_at"]
    assert names("not_prepared", "trim_mask") == ["trimmed", "check_edge"]
    assert names("held", "trim_mask") == ["looked_at", "check_edge"]
    assert names("retired", "trim_mask") == []
    assert names("not_prepared", why=("no_release_system",)) == []


def test_a_tool_in_the_making_goes_on_to_its_next_step():
    steps = ["make_step", "make_work"]
    assert names("ready", "plug", making=True) == [*steps, "coat"]
    assert names("not_prepared", "plug", making=True, why=("no_release_system",)) == steps
    # it still sits on its plug
    assert names("not_prepared", making=True) == steps
    assert names("not_prepared", "trim_mask", making=True) == [*steps, "check_edge"]
    assert names("held", "trim_mask", making=True) == ["looked_at", "check_edge"]
    assert names("retired", "trim_mask", making=True) == []


def test_while_only_time_is_missing_nothing_stands_out():
    assert not stands_out(status("curing"), NOW)
    assert stands_out(status("ready"), NOW)
    assert stands_out(status("part_in_mold"), NOW)
    assert stands_out(status("part_in_mold", ready_at=NOW), NOW)
    assert not stands_out(status("part_in_mold", ready_at=NOW + timedelta(minutes=1)), NOW)


def others(name="ready", kind="mold", family="paste_wax", shown=(), in_mold=None, **given):
    groups = other_deeds(status(name, in_mold=in_mold), kind=kind, family=family, shown=shown, **given)
    assert all(group.deeds for group in groups)
    return [deed.name for group in groups for deed in group.deeds]


def test_what_ends_a_lay_up_is_there_while_one_is_open():
    open_one = status("part_in_mold", in_mold=PartIn("", "", NOW, None, 1))
    above = next_deeds(open_one, kind="mold")
    assert "abandoned" in others("part_in_mold", shown=above, in_mold=open_one.in_mold)
    assert set(others()).isdisjoint({"abandoned", "lay_up_done"})
    assert names("part_in_mold", "insert") == []


@pytest.mark.parametrize("kind", ["plug", "mold", "insert", "trim_mask"])
def test_every_deed_of_a_kind_is_above_or_in_the_fold(kind):
    every = set(others(kind=kind))
    assert every >= {"hold", "looked_at", "note", "reading"}
    assert (every >= {"pulled", "lay_up"}) == (kind in ("plug", "mold"))
    assert (every >= {"installed", "removed"}) == (kind in ("mold", "insert"))
    assert (every >= {"strip", "repair", "clean", "wax_wanted"}) == (kind != "trim_mask")
    above = next_deeds(status("ready"), kind=kind)
    assert {deed.name for deed in above} | set(others(kind=kind, shown=above)) == every
    assert "film" not in others(kind=kind, left_out=[FILM])
    assert others("retired", kind) == ["looked_at", "note", "move", "hand_back"]


def test_what_a_lead_decides_is_offered_to_leads():
    rules = {"interval", "release_system", "starting_state"}
    assert not rules & set(others())
    assert rules <= set(others(lead=True))
    assert not rules & set(others(kind="trim_mask", lead=True))


@pytest.mark.parametrize(
    ("family", "word"), [("paste_wax", "Wax wanted"), ("semi_permanent", "Release wanted"), ("other", "A coat wanted")]
)
def test_only_paste_wax_says_wax(family, word):
    groups = other_deeds(status("ready"), kind="mold", family=family, shown=())
    assert [str(deed.word) for group in groups for deed in group.deeds if deed.name == "wax_wanted"] == [word]
