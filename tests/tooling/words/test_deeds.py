"""Which deeds a status offers."""

from datetime import timedelta

import pytest

from tests.tooling.words.samples import NOW, status
from tooling.calc.state import PartIn
from tooling.calc.status import ORDER
from tooling.words.deeds import next_deeds, other_deeds, stands_out


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
    assert names("ready", "plug", making=True) == ["coat"]
    # it still sits on its plug
    assert names("not_prepared", making=True) == []
    assert names("held", making=True) == ["looked_at"]
    assert names("not_prepared", "trim_mask") == []
    assert names("held", "trim_mask") == ["looked_at"]
    assert names("not_prepared", why=("no_release_system",)) == []


def test_while_only_time_is_missing_nothing_stands_out():
    assert not stands_out(status("curing"), NOW)
    assert stands_out(status("ready"), NOW)
    assert stands_out(status("part_in_mold"), NOW)
    assert stands_out(status("part_in_mold", ready_at=NOW), NOW)
    assert not stands_out(status("part_in_mold", ready_at=NOW + timedelta(minutes=1)), NOW)


def test_what_ends_a_lay_up_is_there_while_one_is_open():
    open_one = status("part_in_mold", in_mold=PartIn("", "", NOW, None, 1))
    above = next_deeds(open_one, kind="mold")
    assert "abandoned" in [deed.name for deed in other_deeds(open_one, kind="mold", film=False, shown=above)]
    other = {deed.name for deed in other_deeds(status("ready"), kind="mold", film=False, shown=())}
    assert other.isdisjoint({"abandoned", "lay_up_done"})
    assert names("part_in_mold", "insert") == []


@pytest.mark.parametrize("kind", ["plug", "mold", "insert", "trim_mask"])
def test_every_deed_of_a_kind_is_above_or_in_the_fold(kind):
    def others(name, film=True, shown=()):
        return [deed.name for deed in other_deeds(status(name), kind=kind, film=film, shown=shown)]

    every = set(others("ready"))
    assert every >= {"hold", "looked_at"}
    assert (every >= {"pulled", "lay_up"}) == (kind in ("plug", "mold"))
    above = next_deeds(status("ready"), kind=kind)
    assert {deed.name for deed in above} | set(others("ready", shown=above)) == every
    assert "film" not in others("ready", film=False)
    assert others("retired") == ["looked_at"]
