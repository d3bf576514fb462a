"""Several tools that are coated in one go: which wait for the same coat, and how each of them stands."""

from collections.abc import Collection, Sequence
from dataclasses import dataclass
from datetime import datetime
from math import ceil

from tooling.calc.ahead import Ahead, coats_ahead
from tooling.calc.state import decode
from tooling.calc.status import RANK
from tooling.models import Entry, Person, RecipeVersion, Shop, Span, Tool, ToolAlias, Wipe, tidy_code
from tooling.selectors.coats import CLOCK_RUNS, wipes_of
from tooling.selectors.rows import Row, rows, shown
from tooling.services.deeds.undo import RUB_OUT_WITHIN

# As many as are carried to one bench; more are coated in a second go.
MOST = 40
# As many as are looked through for what waits for the same coat.
_LOOKED_AT = 300
_GOES_ON = frozenset({"sealer", "coat", "film"})
_WANT = ("not_prepared", "preparing", "needs_touch_up", "needs_film")


@dataclass(frozen=True)
class Member:
    """One tool of several: its row, what lies ahead of it, the coat that went on last, and that it was wiped."""

    row: Row
    plan: Ahead | None
    coat: Entry | None = None
    wipe: Wipe | None = None

    @property
    def code(self) -> str:
        """The code of the tool."""
        return self.row.tool.code

    @property
    def recipe(self) -> RecipeVersion | None:
        """Its recipe, as it holds now."""
        return self.row.recipe


@dataclass(frozen=True)
class Waiting:
    """Tools on one recipe that wait for the same: a step, with so many coats on of so many."""

    recipe: RecipeVersion
    step: str
    on: int
    wanted: int
    members: tuple[Member, ...]


@dataclass(frozen=True)
class Together:
    """Several tools as they stand at a moment. `unknown`: what was named and is no tool."""

    shop: Shop
    at: datetime
    members: tuple[Member, ...]
    unknown: tuple[str, ...]

    @property
    def recipe(self) -> RecipeVersion | None:
        """The recipe of the first that has one: all are coated by it."""
        return next((one.recipe for one in self.members if one.recipe is not None), None)

    @property
    def codes(self) -> tuple[str, ...]:
        """The codes of the tools, in the order in which they were named."""
        return tuple(one.code for one in self.members)

    @property
    def keys(self) -> tuple[int, ...]:
        """The keys of the tools, in the same order."""
        return tuple(one.row.tool.pk for one in self.members)

    @property
    def plans(self) -> list[Ahead]:
        """What lies ahead of each that is on that recipe."""
        return [one.plan for one in self.members if one.plan is not None and one.recipe == self.recipe]

    @property
    def step(self) -> str:
        """What most of them want next; "" where none wants anything."""
        steps = [plan.step for plan in self.plans if plan.step]
        return max(dict.fromkeys(steps), key=steps.count, default="")

    @property
    def not_before(self) -> datetime | None:
        """The moment that the next step waits for on the last of them."""
        return max((plan.not_before for plan in self.plans if plan.not_before is not None), default=None)

    @property
    def last_at(self) -> datetime | None:
        """When the last coat went on, where its clock is still of use."""
        last = max((plan.last_at for plan in self.plans if plan.last_at is not None), default=None)
        return last if last is not None and self.at - last < CLOCK_RUNS else None

    @property
    def unwiped(self) -> list[Member]:
        """Those whose last coat nobody has wiped."""
        return [one for one in self.members if one.coat is not None and one.wipe is None]


def waiting(at: datetime) -> list[Waiting]:
    """What waits for the same coat, most tools first; those used or worked on last are looked through."""
    ranks = [RANK[status] for status in _WANT]
    spans = Span.objects.at(at).filter(rank__in=ranks, tool__summary__making=False)
    keys = list(spans.order_by("-group_at").values_list("tool", flat=True)[:_LOOKED_AT])
    groups: dict[tuple[str, str, int, int], list[Member]] = {}
    for one in _members(keys, at, Shop.current()):
        if one.plan is None or one.recipe is None or not one.plan.step or one.row.summary.laid_up_at is not None:
            continue
        plan = one.plan
        groups.setdefault((one.recipe.system.code, plan.step, plan.on, plan.wanted), []).append(one)
    found = [Waiting(members[0].recipe, *key[1:], tuple(sorted(members, key=_code))) for key, members in groups.items()]
    return sorted(found, key=lambda one: (-len(one.members), one.recipe.system.code, one.step, one.on))


def _code(one: Member) -> str:
    return one.code


def together(codes: Sequence[str], at: datetime) -> Together:
    """These tools, in their order and each once, by as many queries for one as for forty."""
    shop, named = Shop.current(), list(dict.fromkeys(codes[: 2 * MOST]))
    found = _called(named)
    keys = list(dict.fromkeys(found[code] for code in named if code in found))[:MOST]
    members = _with_coats(_members(keys, at, shop))
    return Together(shop, at, tuple(members), tuple(code for code in named if code not in found))


def _called(codes: Sequence[str]) -> dict[str, int]:
    """The keys of the tools that have or once had these codes, by what was written."""
    tidy = {code: " ".join(tidy_code(code).split()) for code in codes if "\x00" not in code}
    once = ToolAlias.objects.filter(code__in=tidy.values()).values_list("code", "tool")
    now = Tool.objects.filter(code__in=tidy.values()).values_list("code", "pk")
    known = {**dict(once), **dict(now)}
    return {code: known[text] for code, text in tidy.items() if text in known}


def _members(keys: list[int], at: datetime, shop: Shop) -> list[Member]:
    made = {row.tool.pk: row for row in rows(shown().at(at).filter(tool__in=keys), at)}
    return [Member(made[key], _plan(made[key], at, shop)) for key in keys if key in made]


def _plan(row: Row, at: datetime, shop: Shop) -> Ahead | None:
    if row.recipe is None or not row.tool.has_surface:
        return None
    return coats_ahead(decode(row.summary.state), row.rules.judged_by(row.recipe)[0], shop.zone, at)


def _with_coats(members: list[Member]) -> list[Member]:
    """With the entry of each one's last coat."""
    last = {one.row.tool.pk: one.plan.last_at for one in members if one.plan is not None and one.plan.last_at}
    entries = Entry.objects.filter(tool__in=last, kind="coat", at__in=set(last.values())).standing()
    coats = {one.tool_id: one for one in entries.order_by("id") if one.at == last[one.tool_id]}
    wipes = wipes_of(coats.values())
    return [_member(one, coats.get(one.row.tool.pk), wipes) for one in members]


def _member(one: Member, coat: Entry | None, wipes: dict[int, Wipe]) -> Member:
    return Member(one.row, one.plan, coat, wipes.get(coat.pk) if coat is not None else None)


@dataclass(frozen=True)
class Lately:
    """What somebody has just written on several tools, and the minutes for which it can be rubbed out."""

    entries: tuple[Entry, ...]
    minutes: int


def written_lately(tools: Collection[int], person: Person, at: datetime) -> Lately | None:
    """The last coat that a person wrote on each of these tools, while it can be rubbed out; None where none can."""
    since = at - RUB_OUT_WITHIN
    mine = Entry.objects.lately_by(person, since).of(tools)
    last = {one.tool_id: one for one in mine.select_related("tool", "by").order_by("number")}
    gone = set(Entry.objects.filter(voids__in=last.values()).values_list("voids_id", flat=True))
    found = tuple(one for one in last.values() if one.kind in _GOES_ON and one.pk not in gone)
    if not found:
        return None
    first = min(one.recorded_at for one in found)
    return Lately(found, max(1, ceil((first - since).total_seconds() / 60)))
