"""A set of one mold and its inserts, on a day in June, so that times can be worked out by hand."""

from datetime import UTC, datetime
from zoneinfo import ZoneInfo

from tooling.models import Kind, Part, PartRevision, RecipeVersion, ReleaseSystem, SetLine, Shop
from tooling.selectors.tool_set import tool_set
from tooling.services import deeds
from tooling.services.tools import add_tool

ZONE = ZoneInfo("Europe/Lisbon")
PART = "SK520-DECK"
BY = {"by": None, "recorded_by": None}
# By hand throughout: a coat 20 min, 60 min to the next, 2 h of cure behind two coats, 1 h behind the one between pulls.
WAX = {
    "name": "Paste wax", "family": "paste_wax", "coats_new": 2, "coats_again": 2, "break_in": "", "pulls_between": 3,
    "coat_minutes": 20, "coat_gap_minutes": 60, "cure_hours_preparation": 2, "cure_hours_touch_up": 1,
    "film_minutes": 10, "film_dry_minutes": 30, "film_good_hours": 4,
}  # fmt: skip


def moment(text):
    """A time of the shop."""
    return datetime.fromisoformat(text).replace(tzinfo=ZONE).astimezone(UTC)


MONDAY = moment("2026-06-01 08:00")
LONG_AGO = moment("2026-05-20 08:00")


def open_shop(hands=2, week="Mon-Fri 08:00-17:00", **more):
    """The shop, a recipe and a part without tools."""
    Shop.objects.create(name="Saltbatch Boatworks", time_zone=ZONE.key, week=week, hands=hands)
    recipe("WAX", **more)
    return PartRevision.objects.create(part=Part.objects.create(number=PART), name="Deck")


def recipe(code, **more):
    """A release recipe with the numbers above, or others."""
    system = ReleaseSystem.objects.create(code=code)
    RecipeVersion.objects.create(system=system, **{**WAX, **more})
    return system


def tool(revision, code, *, kind=Kind.MOLD, coats=0, pulls=0, into=None, system="WAX", **columns):
    """A tool of the set: how many coats it got some days ago, and how many pulls since."""
    made = add_tool(code=code, kind=kind, name=code, release_system=ReleaseSystem.objects.get(code=system), **columns)
    if into is not None:
        deeds.install(made, mold=into, at=LONG_AGO, **BY)
    for _coat in range(coats):
        deeds.log_coat(made, at=LONG_AGO, **BY)
    for _pull in range(pulls):
        deeds.log_pull(made, came_off="free", at=LONG_AGO, **BY)
    SetLine.objects.create(revision=revision, role=kind, tool=made)
    return made


def asked(revision, at=MONDAY):
    """The answer of its set."""
    return tool_set(revision, at)


def clocks(*times):
    """Mon 08:00 of each, in the shop."""
    return [f"{one.astimezone(ZONE):%a %H:%M}" for one in times]


def table(found):
    """What is done on which tool, from when to when and until when it waits."""
    return [(one.tool.code, [(step.name, *clocks(step.starts, step.ends, step.waits_until)) for step in one.steps])
            for one in found.works]  # fmt: skip
