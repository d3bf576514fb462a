"""One entry from the command line: what it leaves behind, and what it refuses in one line."""

from io import StringIO

import pytest
from django.core.management import CommandError, call_command

from tooling.models import Entry, Person, Place, Shop, Tool
from tooling.services.tools import add_tool

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def shop():
    Shop(name="Works", time_zone="America/New_York").save()
    Place.objects.create(code="B-2", name="Shelf")
    for code, kind in (("HULL520", "mold"), ("RIM-1", "insert"), ("SKEGBOX", "insert")):
        add_tool(code=code, kind=kind, name=code, in_making=code == "HULL520")


def logged(*words):
    said = StringIO()
    call_command("log_entry", *words, stdout=said)
    return said.getvalue()


def test_a_tool_is_accepted():
    assert logged("hull520", "Accepted", "--by", "Ines").startswith("HULL520: entry 1, accepted, 20")
    assert not Tool.objects.get(code="HULL520").summary.making
    assert Entry.objects.get().by == Person.objects.get(name="Ines", role="")
    call_command("check_history", stdout=StringIO())


def test_it_is_moved_and_its_home_stays():
    logged("SKEGBOX", "moved", "--set", "place= b-2", "--set", "home=no")
    summary = Tool.objects.get(code="SKEGBOX").summary
    assert (summary.seen_place.code, summary.home) == ("B-2", None)
    assert Entry.objects.get().payload["home"] is False
    logged("SKEGBOX", "moved", "--set", "place=")
    assert Tool.objects.get(code="SKEGBOX").summary.seen_place is None


def test_an_insert_is_installed_and_a_pull_names_it():
    at = "2026-03-02 08:00"
    assert logged("RIM-1", "installed", "--set", "mold=HULL520", "--at", at) == f"RIM-1: entry 1, installed, {at}\n"
    assert Tool.objects.get(code="RIM-1").summary.in_mold_of.code == "HULL520"
    logged("HULL520", "pull", "--set", "came_off=tight", "--set", "surface=rim-1", "--set", "count=2")
    assert Entry.objects.get(kind="pull").payload["surface"] == Tool.objects.get(code="RIM-1").pk
    call_command("check_history", stdout=StringIO())


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["NONE", "accepted"], "There is no tool NONE."),
        (["HULL520", "accept"], "Did you mean accepted?"),
        (["HULL520", "void"], "voided on the page"),
        (["HULL520", "pull", "--set", "came_off"], "as --set column=value"),
        (["HULL520", "pull", "--set", "number=7"], "There is no column number to set. One of: count, area,"),
        (["HULL520", "pull", "--set", "came_off=easy"], "came_off: One of free, light,"),
        (["HULL520", "pull", "--set", "count=501"], "goes from 1 to 500"),
        (["HULL520", "pull", "--at", "2099-01-01"], "future"),
        (["HULL520", "pull", "--at", "9999-01-01"], "at: Check the year"),
        (["SKEGBOX", "moved", "--set", "place=C-9"], "There is no place C-9."),
        (["HULL520", "installed", "--set", "mold=HULL520"], "Only a mold insert is installed"),
        (["RIM-1", "installed", "--set", "mold=SKEGBOX"], "is no mold"),
        (["HULL520", "coat", "--set", "release_system=NONE"], "There is no release recipe NONE."),
    ],
)
def test_what_is_refused_is_one_line_and_leaves_nothing(words, said):
    with pytest.raises(CommandError) as refused:
        logged(*words, "--by", "Nobody yet")
    assert said in str(refused.value)
    assert "\n" not in str(refused.value)
    assert not Entry.objects.exists()
    assert not Person.objects.exists()
