"""What the command says of each tool, in the words of the pages."""

import json
from io import StringIO

import pytest
from django.core.management import CommandError, call_command

from tests.tooling.views.conftest import morning
from tests.tooling.views.works import NOW, ago, do, mold, recipe
from tooling.models import Kind

__all__ = ["morning"]

pytestmark = pytest.mark.django_db


def answered(*words):
    said = StringIO()
    call_command("release_status", "--at", NOW.isoformat(), *words, stdout=said)
    return said.getvalue()


@pytest.fixture
def lines(morning):
    """The lines of an answer by the code that each begins with."""
    return lambda *words: dict(line.split(maxsplit=1) for line in answered(*words).splitlines())


def test_each_tool_has_its_sentence(lines, morning):
    semi = recipe("SEMI", family="semi_permanent")
    mold("DONE", morning, pulls=4)
    mold("12.PORT", semi, pulls=4)
    do("lay_up", mold("PLUG", morning, kind=Kind.PLUG), at=ago(hours=1), earliest_pull=NOW)
    do("hold", mold("HELD", morning), at=ago(hours=1))
    mold("NONE", None, pulls=None)
    assert lines() == {
        "12.PORT": "Release first: one coat. 4 of 4 pulls done.",
        "DONE": "Wax first: 4 of 4 pulls done. One coat.",
        "HELD": "Held: somebody stopped it.",
        "NONE": "No release recipe: choose one first.",
        "PLUG": "Time is up: check it is hard.",
    }


def test_the_word_is_that_of_the_surface_that_decides(lines, morning):
    host = mold("HOST", recipe("SEMI", family="semi_permanent"))
    rim = mold("RIM", morning, pulls=4, kind=Kind.INSERT)
    do("install", rim, at=ago(hours=1), mold=host)
    assert lines("HOST")["HOST"] == "Wax first: its pulls are done. One coat. This is about RIM, which is in it."


def test_the_word_is_that_of_the_moment(lines, morning):
    recipe("SEMI", family="semi_permanent")
    deck = mold("DECK", morning, pulls=2)
    do("change_release_system", deck, at=ago(hours=1), release_system="SEMI")
    assert "then wax" in lines("DECK", "--at", ago(hours=2).isoformat())["DECK"]
    for known_at in ([], ["--known-at", NOW.isoformat()]):
        assert lines("DECK", *known_at)["DECK"].startswith("Strip first: the recipe was changed")


def test_json_keeps_its_codes(lines, morning):
    mold("DONE", morning, pulls=4)
    (row,) = json.loads(answered("--format", "json"))
    assert (row["tool"], row["status"], row["why"]) == ("DONE", "needs_touch_up", ["count"])


def test_a_code_that_there_is_none_of(morning):
    with pytest.raises(CommandError, match="no tool NONE"):
        answered("NONE")


@pytest.mark.parametrize("option", ["--at", "--known-at"])
@pytest.mark.parametrize("moment", ["9999-12-31T23:59Z", "0001-01-01T00:30Z"])
def test_a_year_that_cannot_be_meant(morning, option, moment):
    with pytest.raises(CommandError, match="Check the year"):
        answered(option, moment)
