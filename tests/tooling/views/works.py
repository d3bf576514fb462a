"""An invented works for the tests of pages: tools by the handful, and deeds at hours before a fixed morning."""

from datetime import UTC, datetime, timedelta

from tooling.models import Entry, Kind, RecipeVersion, ReleaseSystem, Shop, Tool
from tooling.services import deeds
from tooling.services.tools import add_tool

NOW = datetime(2026, 5, 12, 6, 40, tzinfo=UTC)  # a Tuesday, 07:40 in the shop


def recipe(code: str = "WAX", **columns) -> ReleaseSystem:
    """A recipe of one coat and four pulls, without a break-in."""
    plain = {"name": "Paste wax", "family": "paste_wax", "coats_new": 1, "coats_again": 1, "break_in": ""}
    system = ReleaseSystem.objects.create(code=code)
    RecipeVersion.objects.create(system=system, **{**plain, **columns})
    return system


def open_shop() -> ReleaseSystem:
    """The shop, with its paste wax."""
    Shop.objects.create(name="Saltbatch Boatworks", time_zone="Europe/Lisbon")
    return recipe()


def ago(**time) -> datetime:
    """A moment before the fixed morning."""
    return NOW - timedelta(**time)


def do(name: str, what: Tool | Entry, by=None, **facts):
    """A deed on a tool, or on an entry, written down when the tests' clock says."""
    return getattr(deeds, name)(what, by=by, recorded_by=by, **facts)


def mold(code: str, system: ReleaseSystem | None, *, pulls: int | None = 0, kind: str = Kind.MOLD, **columns) -> Tool:
    """A tool that was coated yesterday and pulled from since; None: not even coated."""
    tool = add_tool(code=code, kind=kind, name=columns.pop("name", f"Tool {code}"), release_system=system, **columns)
    if pulls is not None:
        do("log_coat", tool, at=ago(hours=20))
    for number in range(pulls or 0):
        do("log_pull", tool, at=ago(hours=10 - number), came_off="free")
    return tool
