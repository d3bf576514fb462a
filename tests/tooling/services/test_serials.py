"""Each serial number of an entry stands in the index, whoever wrote the entry."""

from importlib import import_module

import pytest
import time_machine
from django.apps import apps

from tests.tooling.views import works
from tooling.models import Entry, SerialNumber
from tooling.models.serials import bare_of, key_of, split
from tooling.services.tools import relay
from tooling.services.whole_check import findings

WANTED = [("SK 0173", "SK520-DECK", "SK0173"), ("0174", "SK520-DECK", "174")]


@pytest.fixture
def written(db):
    """A lay-up with two numbers, one of them twice in other letters."""
    with time_machine.travel(works.NOW, tick=False):
        deck = works.mold("DECK-2A", works.open_shop())
        works.do("lay_up", deck, part="sk520-deck", serial="sk  0173, 0174;SK 0173\n")
        yield


def rows():
    return list(SerialNumber.objects.order_by("pk").values_list("key", "part", "bare"))


def test_a_deed_writes_each_of_its_numbers_once(written):
    assert rows() == WANTED
    assert not list(findings())


@pytest.mark.parametrize("spoil", [SerialNumber.objects.all, lambda: SerialNumber.objects.filter(key="0174")])
def test_what_the_index_lacks_is_found_and_laid_anew(written, spoil):
    spoil().delete()
    assert [one.tool for one in findings()] == ["DECK-2A"]
    relay()
    assert rows() == WANTED
    assert not list(findings())


def test_what_was_written_before_there_was_an_index_is_filled_in(written):
    SerialNumber.objects.all().delete()
    migration = import_module("tooling.migrations.0031_serial_numbers")
    migration.fill(apps, None)
    assert rows() == WANTED
    own = (migration.split, migration.key_of, migration.bare_of)
    assert {one.__module__ for one in own} == {migration.__name__}, "a later way to read them is not this one's"
    split_, key, bare = own
    for text in ("sk_0-0O7, 3  4;\r\n\0é", "000", "", "X" * 500):
        assert (split_(text), key(text), bare(text)) == (split(text), key_of(text), bare_of(text))


def test_numbers_part_at_commas_lines_and_semicolons():
    assert split(" 1 ,2;\r\n3 4 ,, ") == ["1", "2", "3 4"]
    assert (key_of("é-07\0"), bare_of("sk_0-0O7"), bare_of("000")) == ("É-07", "SK0007", "")


def test_a_long_number_is_cut_and_kept_whole_in_its_entry(written):
    long = "X" * 500
    works.do("lay_up", works.mold("DECK-2B", works.recipe("W2")), serial=long)
    assert SerialNumber.objects.latest("pk").key == "X" * 80
    assert Entry.objects.latest("pk").serial == long
