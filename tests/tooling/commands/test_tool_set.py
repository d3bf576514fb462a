"""What the command says of a part: the same as its page, as text and as one JSON document."""

import json
from io import StringIO

import pytest
import time_machine
from django.core.management import CommandError, call_command

from tests.tooling.selectors.timetable import BY, MONDAY, open_shop, recipe, tool
from tooling.models import Kind, Part, PartRevision, SetLine
from tooling.services import deeds

pytestmark = pytest.mark.django_db


def answered(*words):
    said = StringIO()
    call_command("tool_set", *words, stdout=said)
    return said.getvalue()


@pytest.fixture
def deck():
    """A mold that wants a coat, a rim of another recipe that is not in it, and bolts."""
    with time_machine.travel(MONDAY, tick=False):
        revision = open_shop()
        recipe("SEMI", family="semi_permanent", cure_hours_touch_up=0)
        tool(revision, "DECK-1", coats=2, pulls=3)
        tool(revision, "RIM", kind=Kind.INSERT, coats=2, system="SEMI")
        SetLine.objects.create(revision=revision, role="hardware", item="8 bolts M6")
        yield revision


def test_json_has_what_scripts_read(deck):
    row = json.loads(answered("sk520-deck", "--format", "json"))
    assert {name: row[name] for name in ("part", "revision", "usable", "lay_up_from", "cannot")} == {
        "part": "SK520-DECK", "revision": "", "usable": False,
        # one coat of 20 min and an hour, from 08:00 in Lisbon, where it is summer
        "lay_up_from": "2026-06-01T08:20:00+00:00", "cannot": None,
    }  # fmt: skip
    assert [(one["role"], one["tool"], one["item"], one["usable"]) for one in row["lines"]] == [
        ("mold", "DECK-1", "", False), ("insert", "RIM", "", True), ("hardware", None, "8 bolts M6", True),
    ]  # fmt: skip
    assert [one["code"] for one in row["lines"][0]["reasons"]] == ["needs_touch_up", "insert_missing"]
    assert all(one["place"] for one in row["lines"])
    assert all(one["usable"] == (not one["reasons"]) for one in row["lines"])


def test_the_text_says_it_to_people(deck):
    lines = answered("SK520-DECK").splitlines()
    assert lines[:2] == ["SK520-DECK: not to be used now", "Can be laid up from 09:20 if the coat goes on now"]
    assert [lines[2], lines[4]] == [
        "By the record: coats, film, holds and places. It does not say that a coat is hard or that the part will be "
        "fit: look, and check. Hardware is not counted.",
        "RIM: Put it into DECK-1.",
    ]
    assert "             not usable: Wax first: 3 of 3 pulls done. Put on one coat." in lines
    assert "Look at it before the cut" not in " ".join(lines)
    tool(deck, "RIM-TRIM", kind=Kind.TRIM_MASK)
    assert answered("SK520-DECK").count("Look at it before the cut.") == 1


def test_the_moment_and_the_revision_are_those_asked_for(deck):
    assert json.loads(answered("SK520-DECK", "--at", "2026-06-06T12:00", "--format", "json"))["lay_up_from"] == (
        "2026-06-08T08:20:00+00:00"
    )
    PartRevision.objects.create(part=deck.part, revision="B", name="Deck")
    newest = json.loads(answered("SK520-DECK", "--format", "json"))
    assert (newest["revision"], newest["lines"], newest["lay_up_from"]) == ("B", [], None)
    assert newest["why"] == newest["cannot"]["text"] == "No tool set is written down for this revision."
    assert json.loads(answered("SK520-DECK", "--revision", "", "--format", "json"))["revision"] == ""


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (["SK520-DEK"], "There is no part SK520-DEK. Near it: SK520-DECK."),
        (["520"], "There is no part 520. Near it: SK520-DECK."),
        (["X"], "There is no part X."),
        (["SK520-DECK", "--revision", "Z"], "There is no revision Z of SK520-DECK. There is: one without a name."),
        (["BARE"], "BARE has no revision, and so no tool set."),
        (["SK520-DECK", "--at", "soon"], "“soon” is no time. Write it as 2026-03-31 14:05."),
    ],
)
def test_what_there_is_not_is_said_in_a_line(deck, words, says):
    Part.objects.create(number="BARE")
    with pytest.raises(CommandError) as refused:
        answered(*words)
    assert str(refused.value) == says


def test_what_stops_it_is_the_reason_for_no_time(deck):
    deeds.hold(deck.tool_set.get(role="mold").tool, reason="cracked", at=MONDAY, **BY)
    row = json.loads(answered("SK520-DECK", "--format", "json"))
    assert (row["lay_up_from"], row["cannot"]["code"]) == (None, "held")


def test_of_another_moment_it_says_which_and_every_date(deck):
    lines = answered("SK520-DECK", "--at", "2026-06-06T12:00").splitlines()
    assert lines[0] == "As of 6 Jun 2026, 12:00; “now” is that moment."
    assert lines[2].startswith("Can be laid up from 8 Jun 2026, 09:20 if ")
    assert lines[2].endswith(" 8 Jun 2026, 08:00")
    assert answered("SK520-DECK", "--at", "2020-01-01").splitlines()[1] == "Nothing was written of these tools by then."


def test_an_insert_says_itself_what_is_wrong_with_it_and_nothing_is_said_twice(deck):
    mold, rim = (deck.tool_set.get(role=role).tool for role in ("mold", "insert"))
    deeds.install(rim, mold=mold, at=MONDAY, **BY)
    deeds.strip(rim, at=MONDAY, **BY)
    deeds.log_coat(mold, at=MONDAY, **BY)
    text = answered("SK520-DECK")
    assert "not usable: RIM, which is in it, may not be used." in text
    assert "not usable: Curing: can be laid up from 09:00.\n" in text
    assert "not usable: No coat on: 2 wanted.\n" in text
    reasons = [
        one for line in json.loads(answered("SK520-DECK", "--format", "json"))["lines"] for one in line["reasons"]
    ]
    assert all(one["mend"] for one in reasons)
