"""Which deeds a status offers."""

import pytest

from tests.tooling.words.samples import NOW, status
from tooling.calc.state import PartIn
from tooling.calc.status import ORDER
from tooling.words.deeds import next_deeds, stands_out


def names(name, kind="mold", making=False, **given):
    return [deed.name for deed in next_deeds(status(name, **given), kind=kind, making=making)]


@pytest.mark.parametrize("name", ORDER)
@pytest.mark.parametrize("kind", ["plug", "mold", "insert", "trim_mask"])
def test_every_status_of_every_kind_has_few_deeds(name, kind):
    assert len(names(name, kind)) <= 3


def test_the_likeliest_comes_first():
    assert names("ready")[0] == "lay_up"
    assert names("part_in_mold") == ["pulled"]
    assert names("needs_touch_up")[0] == "coat"
    assert names("needs_strip")[0] == "strip"
    assert names("needs_film")[0] == "film"
    assert names("held") == ["looked_at"]
    assert names("held", in_mold=PartIn("", "", NOW, None, 1)) == ["looked_at", "pulled"]
    assert names("retired") == []


def test_what_cannot_be_laid_up_by_itself_is_not():
    assert names("ready", "insert") == ["coat"]
    assert names("ready", making=True) == ["coat"]
    assert names("not_prepared", "trim_mask") == []
    assert names("held", "trim_mask") == ["looked_at"]
    assert names("not_prepared", why=("no_release_system",)) == []


def test_while_only_time_is_missing_nothing_stands_out():
    assert not stands_out(status("curing"))
    assert stands_out(status("ready"))
