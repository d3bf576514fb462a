"""Whatever is changed below the program is found, with the tool and the entry named."""

import datetime
import json
from hashlib import sha256
from uuid import UUID

import pytest
from django.core.exceptions import ValidationError
from django.db import connection

from tests.plugin_triggers import lifted
from tests.tooling.rows import NOON, make_tool, write
from tooling.models import Entry, Person, Summary
from tooling.services import chain

LATER = NOON + datetime.timedelta(days=400)


def found(**kwargs) -> list[tuple[str, int | None]]:
    return [(finding.tool, finding.number) for finding in chain.verify(**kwargs)]


def tamper(number: int, tool: str = "K-1", **columns) -> None:
    with lifted():
        assert Entry.objects.filter(tool__code=tool, number=number).update(**columns) == 1


@pytest.fixture
def history(db):
    """Eight entries on one mold and two on an insert of it."""
    kim, lou = Person.objects.named("Kim"), Person.objects.named("Lou")
    mold, insert = make_tool("K-1"), make_tool("I-1", "insert")
    write(mold, "starting_state", payload={"prepared": "yes", "pulls_since_coat": 2})
    write(insert, "installed", mold=mold, by=kim)
    write(mold, "lay_up", part="HULL-12", serial="0173", film=False, earliest_pull=LATER, by=kim, recorded_by=lou)
    write(mold, "pull", count=1, came_off="light", token=UUID(int=1), payload={"cause": "undercut", "lot": "é"})
    wrong = write(mold, "coat", count=3, release_system="W", area="flange")
    write(mold, "coat", count=2, release_system="W", replaces=wrong)
    void = write(mold, "pull", count=1)
    write(mold, "void", voids=void, payload={"reason": "typed twice"})
    write(mold, "hold")
    write(insert, "pull", count=1)
    return mold


def test_a_history_as_written_has_no_finding(history):
    assert found() == []


CHANGES = [
    {"kind": "strip"},
    {"at": LATER},
    {"at": NOON + datetime.timedelta(hours=3, microseconds=1)},
    {"recorded_at": LATER},
    {"count": 2},
    {"count": None},
    {"area": "spot"},
    {"came_off": "free"},
    {"film": True},
    {"film": False},
    {"part": "HULL-13"},
    {"serial": "0174"},
    {"release_system": "S"},
    {"earliest_pull": NOON},
    {"mold_id": "tool"},
    {"by_id": "person"},
    {"recorded_by_id": "person"},
    {"replaces_id": "entry"},
    {"voids_id": "entry"},
    {"token": UUID(int=2)},
    {"token": None},
    {"payload": {}},
    {"payload": {"cause": "undercut", "lot": "e"}},
    {"link": "f" * 64},
]


@pytest.mark.parametrize("change", CHANGES, ids=str)
def test_any_changed_column_is_found(history, change):
    standing_for = {
        "tool": history.pk,
        "person": Person.objects.get(name="Kim").pk,
        "entry": history.entries.get(number=1).pk,
    }
    tamper(
        3,
        **{name: standing_for.get(value, value) if isinstance(value, str) else value for name, value in change.items()},
    )
    assert found()[0] == ("K-1", 3)


@pytest.mark.sqlite
@pytest.mark.parametrize("column", ["at", "recorded_at", "earliest_pull", "payload", "token"])
@pytest.mark.parametrize("text", ["yesterday", "2026-03-02 15:00:00+02:00", "{"])
def test_a_text_that_is_no_value_is_a_finding_too(history, column, text):
    """SQLite takes any text; PostgreSQL would refuse it."""
    with lifted(), connection.cursor() as cursor:
        cursor.execute("PRAGMA ignore_check_constraints = ON")
        cursor.execute(f"UPDATE tooling_entry SET {column} = %s WHERE tool_id = %s AND number = 3", [text, history.pk])
        cursor.execute("PRAGMA ignore_check_constraints = OFF")
    assert found() == [("K-1", 3)]


def test_every_column_is_covered_or_proven_otherwise():
    """The id is not: it shows only in the order of recording. The tool is what the first link stands on."""
    stored = {field.attname for field in Entry._meta.fields} - {"id", "tool_id", "link"}
    covered = {name.replace("__number", "_id") for name in chain.COLUMNS}
    assert covered == stored
    assert {name for change in CHANGES for name in change} == (stored - {"number"}) | {"link"}


def test_a_fault_is_named_once(history):
    tamper(3, count=2)
    assert found() == [("K-1", 3)]


def test_a_deleted_row_in_the_middle_is_found(history):
    with lifted():
        Entry.objects.filter(tool=history, number=3)._raw_delete("default")
    assert found() == [("K-1", 3)]


def test_closing_the_gap_does_not_hide_it(history):
    with lifted():
        Entry.objects.filter(tool=history, number=3)._raw_delete("default")
        for number in range(4, 9):
            Entry.objects.filter(tool=history, number=number).update(number=number - 1)
    Summary.objects.filter(tool=history).update(count=7)
    assert ("K-1", 3) in found()


def test_a_cut_off_end_is_found(history):
    with lifted():
        Entry.objects.filter(tool=history, number__gte=8)._raw_delete("default")
    assert found() == [("K-1", 7)]


def test_a_history_deleted_whole_is_found(history):
    with lifted():
        Entry.objects.filter(tool__code="I-1")._raw_delete("default")
    assert found() == [("I-1", None)]


def test_a_lost_summary_is_found(history):
    Summary.objects.filter(tool=history).delete()
    assert found() == [("K-1", 8)]


def test_a_changed_head_is_found(history):
    Summary.objects.filter(tool=history).update(head="0" * 64)
    assert found() == [("K-1", 8)]


@pytest.mark.parametrize("column", ["number", "id"])
def test_two_swapped_rows_are_found(history, column):
    first, second = history.entries.get(number=3), history.entries.get(number=6)
    mine, other = getattr(first, column), getattr(second, column)
    with lifted():
        for old, new in ((mine, 9000), (other, mine), (9000, other)):
            Entry.objects.filter(tool=history, **{column: old}).update(**{column: new})
    assert found()


def test_a_row_moved_to_another_tool_is_found(history):
    moved = write(make_tool("K-2"), "hold")
    last = moved.number
    with lifted():
        Entry.objects.filter(pk=moved.pk).update(tool=history, number=9)
    Summary.objects.filter(tool=history).update(count=9, head=moved.link)
    assert last == 1
    assert ("K-1", 9) in found()


def test_a_row_put_in_below_the_program_is_found(history):
    Entry.objects.create(tool=history, number=9, kind="coat", count=5, at=LATER, recorded_at=LATER, link="0" * 64)
    assert ("K-1", 9) in found()


def test_a_void_led_to_another_tools_entry_of_the_same_number_is_found(history):
    """The link covers the number only, so the tool is looked at apart."""
    other = make_tool("K-2")
    for _number in range(6):
        write(other)
    tamper(7, voids=other.entries.get(number=6))
    assert found() == [("K-1", 7)]


def test_only_the_tools_asked_for(history):
    tamper(3, count=2)
    assert found(tools=[history.pk]) == [("K-1", 3)]
    assert found(tools=[history.pk + 1]) == []


def test_the_stream_gives_what_was_linked(history):
    """What a row gives back from the database is spelled as it was when it was written."""
    for row in Entry.objects.values_list("tool_id", "number", "link", *chain.COLUMNS):
        before = Entry.objects.filter(tool=row[0], number=row[1] - 1).values_list("link", flat=True).first()
        assert chain.link(before or chain.beginning(row[0]), row[3:]) == row[2]


def test_the_bytes_are_plain_json_and_the_link_plain_sha256():
    """Anybody can compute it again with a dozen lines in another language."""
    fields = (
        3,
        "pull",
        NOON,
        NOON,
        1,
        "whole",
        "",
        None,
        "",
        "é",
        "",
        None,
        7,
        1,
        2,
        None,
        2,
        UUID(int=5),
        {"b": 1, "a": ["x"]},
    )
    moment = 1_772_452_800_000_000
    expected = json.dumps(
        [
            3,
            "pull",
            moment,
            moment,
            1,
            "whole",
            "",
            None,
            "",
            "é",
            "",
            None,
            7,
            1,
            2,
            None,
            2,
            "0" * 31 + "5",
            {"a": ["x"], "b": 1},
        ],
        separators=(",", ":"),
    )
    assert chain.canonical(fields).decode() == expected
    assert chain.link("before", fields) == sha256(f"before\n{expected}".encode()).hexdigest()


def test_the_zone_a_time_is_given_in_does_not_matter():
    zone = datetime.timezone(datetime.timedelta(hours=-5))
    assert chain.canonical((NOON,)) == chain.canonical((NOON.astimezone(zone),))


def test_what_has_no_one_spelling_is_refused(db):
    for value in (datetime.datetime(2026, 3, 2), b"x", NOON.date()):
        with pytest.raises(TypeError):
            chain.canonical((value,))
    entry = Entry(tool=make_tool(), number=1, kind="reading", at=NOON, recorded_at=NOON, payload={"value": 0.5})
    with pytest.raises(ValidationError):
        chain.fields_of(entry)


def test_a_finding_says_where():
    finding = chain.Finding("K-1", 3, "is missing")
    assert str(finding) == "K-1 3: is missing"
    assert str(chain.Finding("", None, "the seal")) == "the seal"


@pytest.mark.django_db
def test_verifying_takes_a_fixed_number_of_queries(history, django_assert_num_queries):
    with django_assert_num_queries(3):
        list(chain.verify())
