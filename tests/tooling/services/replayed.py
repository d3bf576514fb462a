"""A made-up history written through the ledger, deed by deed, with the clock standing at each deed's recording."""

from collections.abc import Iterator
from contextlib import contextmanager
from datetime import datetime

from shared import clock
from tests.tooling.calc.replay import Deed, History
from tests.tooling.calc.replay import Shop as MadeShop
from tooling.models import Entry, Kind, Person, RecipeVersion, ReleaseSystem, Shop, Tool
from tooling.services.absorb import Rules
from tooling.services.ledger import record
from tooling.services.tools import open_record, rules

_CLOCK = clock.now
_IN_COLUMNS = (
    "family", "sealer_coats", "coats_new", "coats_again", "break_in_on", "pulls_between", "touch_up_coats",
    "max_touch_ups", "max_pulls_per_preparation", "max_idle_days", "strip_after_idle_days", "max_coat_age_days",
    "film_every_pull", "film_first_pulls", "film_dry_minutes", "film_good_hours", "coat_gap_minutes",
    "longest_gap_hours", "cure_hours_preparation", "cure_hours_touch_up", "touch_up_from", "strip_from", "hold_from",
)  # fmt: skip


@contextmanager
def at(instant: datetime) -> Iterator[None]:
    """The clock stands at `instant`."""
    clock.now = lambda: instant
    try:
        yield
    finally:
        clock.now = _CLOCK


class Written:
    """The shop of a history in the database, and the entries of its deeds so far."""

    def __init__(self, history: History) -> None:
        shop = history.shop
        Shop(time_zone=str(shop.zone), name="Made up").save()
        systems: dict[str, ReleaseSystem] = {}
        versions = []
        for row in shop.rows:
            if row.code not in systems:
                systems[row.code] = ReleaseSystem.objects.create(code=row.code)
            values = {name: getattr(row, name) for name in _IN_COLUMNS}
            lists = {"break_in": ",".join(map(str, row.break_in)), "accepts": ",".join(row.accepts)}
            versions.append(
                RecipeVersion(system=systems[row.code], name=row.code, valid_from=row.valid_from, **lists, **values)
            )
        RecipeVersion.objects.bulk_create(versions)
        with at(history.deeds[0]["recorded_at"]):
            by = rules()
            self.tools: dict[str, Tool] = {
                code: self._tool_with_record(code, shop, systems.get(shop.systems[code] or ""), by)
                for code in shop.tools
            }
        self.codes = {tool.pk: code for code, tool in self.tools.items()}
        self.entries: list[Entry] = []
        self.people: dict[str, Person] = {}

    def _tool_with_record(self, code: str, shop: MadeShop, system: ReleaseSystem | None, by: Rules) -> Tool:
        """Without the checks of a form, which cost more than the history."""
        kind = Kind.INSERT if code in shop.inserts else Kind.MOLD
        looked = {"inspect_every_pulls": 3, "inspect_every_days": 20}  # kept step by step, and folded again
        tool = Tool.objects.create(code=code, name=code, kind=kind, release_system=system, **looked)
        open_record(tool, by)
        return tool

    def write(self, deed: Deed) -> Entry:
        """One more deed; raises what the ledger raises."""
        said = {name: self._tool(name, value) for name, value in deed["fields"].items()}
        with at(deed["recorded_at"]):
            entry = record(
                self.tools[deed["tool"]], deed["kind"], by=self._person(deed["by"]), recorded_by=None, at=deed["at"],
                replaces=self._entry(deed["replaces"]), voids=self._entry(deed["voids"]), **said,
            )  # fmt: skip
        self.entries.append(entry)
        return entry

    def _tool(self, name: str, value: object) -> object:
        return self.tools[value] if name in ("mold", "surface") and value is not None else value

    def _person(self, name: str | None) -> Person | None:
        if name is None:
            return None
        if name not in self.people:
            self.people[name] = Person.objects.named(name)
        return self.people[name]

    def _entry(self, place: int | None) -> Entry | None:
        return None if place is None else self.entries[place]
