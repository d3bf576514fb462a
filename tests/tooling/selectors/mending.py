"""Where the stories of reasons are kept, and what most of them are told with."""

from fractions import Fraction

from shared.clock import now
from shared.units import Read, unit_of
from tooling.services import parts
from tooling.services.catalogue import change_tool
from tooling.services.recipes import add_version
from tooling.services.temperature import measure

MENDS = {}
# Columns that somebody types, and lines of sets, are as they are now, whatever moment is asked for.
TYPED = set()


def mends(code, typed=False):
    """The function under it is what mends a reason. typed: no entry brings it about."""

    def keep(story):
        MENDS[code] = story
        if typed:
            TYPED.add(code)
        return story

    return keep


def recipe(s, **columns):
    """The recipe is changed from now on."""
    as_ever = {"name": "Paste wax", "family": "paste_wax", "coats_new": "1", "coats_again": "1", "break_in": ""}
    add_version(s.wax, at=now(), columns={**as_ever, "pulls_between": "3", **columns})


def tool(s, of, **columns):
    change_tool(of, by=s.lead, at=now(), columns=columns)


def part(s, **columns):
    parts.change_revision(s.revision, by=s.lead, at=now(), columns=columns)


def celsius(number):
    return Read(str(number), Fraction(number), unit_of("°C", "metric"))


def measured(number):
    measure(celsius(number), by=None, recorded_by=None)
