"""Defects follow from what entries say of them: found, seen, closed, come back, corrected and void."""

from datetime import timedelta

import pytest

from shared.errors import Refused
from tests.tooling.pictures import add, file_of
from tests.tooling.views.conftest import morning as morning
from tests.tooling.views.works import NOW, ago, do, mold
from tooling.calc.defect_lines import DefectLine
from tooling.models import Defect, DefectMark, Entry, Summary
from tooling.selectors.defects import defect_story, defects_of, open_defects
from tooling.services import deeds
from tooling.services.defects import numbered
from tooling.services.pictures import replace_picture
from tooling.services.tools import relay
from tooling.services.whole_check import findings

pytestmark = pytest.mark.django_db
CRACK = DefectLine(0, "found", "crack", x=412, y=310, place="flange", words="by the bolt")


@pytest.fixture
def deck(morning):
    return mold("DECK", morning, pulls=None)


@pytest.fixture
def cracked(deck):
    do("take_note", deck, at=ago(days=3), defects="1 found crack, 12 mm, at 412 310, on the flange: by the bolt")
    return deck


def open_now(tool):
    assert [str(one) for one in findings()] == []
    return [one.number for one in open_defects(tool, NOW)], Summary.objects.get(tool=tool).open_defects


def test_is_followed_until_it_is_closed(cracked):
    do("inspect", cracked, at=ago(days=2), passed=True, defects="1 seen, 18 mm: larger")
    (one,) = open_defects(cracked, NOW)
    assert (one.kind, one.where, one.mark, one.first_mm, one.size_mm) == ("crack", "flange", (412, 310), 12, 18)
    do("repair", cracked, at=ago(days=1), area="spot", defects="1 closed")
    assert open_now(cracked) == ([], 0)
    story = defect_story(cracked, 1, NOW)
    assert [see.did for see in story.visits] == ["found", "seen", "closed"]
    assert story.closed_by.entry.kind == "repair"
    assert [one.is_open for one in defects_of(cracked, ago(days=2))] == [True]


def test_a_closed_one_is_opened_before_anything_is_said_of_it(cracked):
    do("repair", cracked, at=ago(days=2), defects="1 closed")
    for lines in ("1 closed", "1 seen"):
        with pytest.raises(Refused, match=r"Defect 1 was mended on .* Say first that it came back, if it did\."):
            do("polish", cracked, defects=lines)
    do("take_note", cracked, at=ago(days=1), defects="1 opened, 5 mm")
    assert open_now(cracked) == ([1], 1)
    assert defect_story(cracked, 1, NOW).first_mm == 5
    with pytest.raises(Refused, match="is still there"):
        do("take_note", cracked, defects="1 opened")


def test_nothing_is_said_of_one_before_it_was_found(cracked):
    before = Entry.objects.get(tool=cracked, kind="note").at - timedelta(days=1)
    for lines in ("1 seen", "1 closed", "1 opened"):
        with pytest.raises(Refused, match=r"Defect 1 was found on .*: nothing is said of it for a time before that"):
            do("take_note", cracked, at=before, defects=lines)


@pytest.mark.parametrize(
    ("lines", "why"),
    [
        ("7 closed", "has no defect 7"),
        ("1 found pit", "is there already"),
        ("1 sen", "none of"),
        ("2 found pit, at 5 1200", "outside the picture"),
    ],
)
def test_what_cannot_be_is_refused_and_nothing_is_written(cracked, lines, why):
    before = Entry.objects.count(), DefectMark.objects.count()
    with pytest.raises(Refused, match=why):
        do("take_note", cracked, defects=lines)
    assert (Entry.objects.count(), DefectMark.objects.count()) == before


def test_a_void_and_a_correction_count(cracked):
    closed = do("repair", cracked, at=ago(days=2), defects="1 closed")
    deeds.void(closed, reason="another mold", by=None, recorded_by=None)
    assert open_now(cracked) == ([1], 1)
    found = Entry.objects.get(tool=cracked, kind="note")
    deeds.correct(found, reason="a chip", changes={"defects": "1 found chip, at 10 20"}, by=None, recorded_by=None)
    (one,) = open_defects(cracked, NOW)
    assert (one.kind, one.where, one.mark, len(one.visits)) == ("chip", "", (10, 20), 1)
    deeds.void(one.found.entry, reason="was dirt", by=None, recorded_by=None)
    assert open_now(cracked) == ([], 0)


def test_what_found_one_is_corrected_after_a_later_look(cracked):
    do("inspect", cracked, passed=True, defects="1 seen, 18 mm: larger")
    found = Entry.objects.get(tool=cracked, kind="note")
    deeds.correct(found, reason="a chip", changes={"defects": "1 found chip"}, by=None, recorded_by=None)
    assert [(one.kind, len(one.visits)) for one in open_defects(cracked, NOW)] == [("chip", 2)]


def test_a_correction_keeps_what_was_said_of_defects(cracked):
    found = Entry.objects.get(tool=cracked, kind="note")
    deeds.correct(found, reason="words", changes={"note": "seen by lamp"}, by=None, recorded_by=None)
    assert open_now(cracked) == ([1], 1)


def test_a_new_one_gets_the_next_number_when_it_is_written(cracked):
    lines = numbered([DefectLine(1, "seen"), CRACK, CRACK])
    entry = do("take_note", cracked, defects=lines)
    assert [line.split(",")[0] for line in entry.payload["defects"].splitlines()] == [
        "1 seen",
        "2 found crack",
        "3 found crack",
    ]
    assert open_now(cracked) == ([1, 2, 3], 3)


def test_on_the_wrong_tool_it_goes_along_under_a_number_of_the_right_one(cracked, morning):
    other = mold("HULL", morning, pulls=None)
    entry = do("take_note", cracked, defects=numbered([DefectLine(1, "closed"), CRACK]))
    deeds.put_right(entry, tool=other, reason="the other mold", recorded_by=None)
    assert open_now(cracked) == ([1], 1)
    assert open_now(other) == ([1], 1)


def test_its_place_is_on_the_main_picture_and_goes_along_with_a_new_one_of_the_same_view(cracked):
    assert Defect.objects.get().picture is None
    main = add(cracked, 1)
    do("take_note", cracked, defects="2 found pit, at 500 500")
    assert Defect.objects.get(number=2).picture == main
    relay([cracked.pk])
    assert Defect.objects.get(number=2).picture == main
    new = replace_picture(main, file_of(2), by=None, at=NOW)
    assert Defect.objects.get(number=2).picture == new


def test_all_of_it_is_laid_anew_from_the_entries(cracked):
    do("repair", cracked, at=ago(days=1), defects="1 closed")
    said = [(one.number, one.is_open) for one in defects_of(cracked, NOW)]
    DefectMark.objects.all().delete()
    Summary.objects.filter(tool=cracked).update(open_defects=4)
    assert len([str(one) for one in findings()]) == 3
    relay([cracked.pk])
    assert open_now(cracked) == ([], 0)
    assert [(one.number, one.is_open) for one in defects_of(cracked, NOW)] == said


def test_what_an_import_says_of_a_closed_one_is_kept_and_the_story_says_so(cracked):
    late = do("repair", cracked, at=NOW - timedelta(hours=1), defects="1 closed")
    do("repair", cracked, at=ago(days=2), defects="1 closed")
    story = defect_story(cracked, 1, NOW)
    assert [see.again for see in story.visits] == [False, False, True]
    assert story.visits[-1].entry == late
    assert story.closed_by.entry != late
