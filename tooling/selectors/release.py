"""What state is each tool's release in, at any moment, and why: the answer of the command and of the tool page."""

from collections.abc import Collection, Iterable
from dataclasses import dataclass, field
from datetime import datetime, tzinfo
from operator import attrgetter
from typing import Any, Protocol

from django.db.models import Q

from shared import clock
from tooling.calc.entry import Entry as Fact
from tooling.calc.recipe import RecipeBook
from tooling.calc.state import State, decode
from tooling.calc.status import Status, combine, status_of
from tooling.models import Entry, Flag, Kind, Shop, Summary, Tool
from tooling.selectors.history import History
from tooling.selectors.recipes import recipe_book


class Keyed(Protocol):
    """A tool, or what a list shows of one."""

    @property
    def pk(self) -> Any:
        """The tool's key."""


@dataclass(frozen=True)
class Flagged:
    """A flag on a surface: the number of the entry within its tool's history, and that tool where it is another."""

    number: int
    flag: str
    tool: Tool | None


@dataclass
class Standing:
    """A tool's answer: by itself, with its installed inserts, and its flags."""

    tool: Tool
    own: Status
    status: Status
    inserts: list[Tool]
    flags: list[Flagged] = field(default_factory=list)
    family: str = "other"

    @property
    def on(self) -> str:
        """The code of the insert that the status comes from, or ""."""
        return next((insert.code for insert in self.inserts if insert.pk == self.status.surface), "")


@dataclass(frozen=True, slots=True)
class IfOtherwise:
    """What to answer by instead of what is stored: other recipes, none of them otherwise before `at`; another zone;
    entries that are not written, each numbered behind those of its tool."""

    book: RecipeBook | None = None
    zone: tzinfo | None = None
    more: tuple[Fact, ...] = ()


def standings(
    tools: Iterable[Keyed] | None = None,
    at: datetime | None = None,
    known_at: datetime | None = None,
    part: str = "",
    otherwise: IfOtherwise | None = None,
    kinds: Collection[str] = Kind.WITH_SURFACE,
) -> list[Standing]:
    """The answers for tools with a release surface, or of other `kinds` (None: all of them), in code order.

    Where nothing lies behind `at` the stored states answer; else, for `known_at`, in another zone and with further
    entries, histories are folded.
    """
    at = at or clock.now()
    question = _Question(at, known_at, part, otherwise or IfOtherwise(), kinds=kinds)
    question.read(tools)
    question.read_flags()
    return [question.answer(tool) for tool in question.asked]


@dataclass(frozen=True, slots=True)
class Surface:
    """One of the surfaces that a tool is used with, its own or that of an insert in it, and how each stands alone."""

    tool: Tool
    state: State
    status: Status


def surfaces(
    tools: Iterable[Keyed], part: str, *, summaries: Iterable[Summary], history: History
) -> dict[int, list[Surface]]:
    """The surfaces of each of these tools by its key: its own first, then its installed inserts' in code order.

    summaries: of the tools and of every insert that was ever in one. history: of the moment, with the logs of those
    whose stored state is not of then. No query.
    """
    question = _Question(history.as_of or clock.now(), None, part, IfOtherwise(history.book), history)
    question.take(summaries, {tool.pk for tool in tools})
    return {tool.pk: question.surfaces(tool) for tool in question.asked}


def as_row(standing: Standing, shop: Shop, codes: dict[int, str]) -> dict[str, Any]:
    """The answer as the command's JSON object; times in the shop's zone."""
    status, zone = standing.status, shop.zone

    def local(instant: datetime | None) -> str | None:
        return instant.astimezone(zone).isoformat() if instant is not None else None

    inside = status.in_mold
    return {
        "tool": standing.tool.code,
        "status": status.status,
        "surface": codes[status.surface],  # type: ignore[index]
        "why": list(status.why),
        "need": status.need._asdict() if status.need is not None else None,
        **{name: getattr(status, name) for name in _PLAIN},
        "expires_on": status.expires_on.isoformat() if status.expires_on is not None else None,
        "ready_at": local(status.ready_at),
        "in_mold": {
            "part": inside.part, "serial": inside.serial,
            "since": local(inside.since), "earliest_pull": local(inside.earliest_pull),
        } if inside is not None else None,
        "inserts": [insert.code for insert in standing.inserts],
        "flags": [_flag_row(flag) for flag in standing.flags],
    }  # fmt: skip


# Beyond as many tools a list of their ids costs more than reading every flag.
_MANY = 500
_PLAIN = (
    "pulls_left", "wax_after_pull", "pulls_past", "since_coat", "touch_ups", "touch_ups_known", "total_pulls",
    "total_coats", "coats_in_preparation", "break_in_index",
)  # fmt: skip


def _flag_row(flag: Flagged) -> dict[str, Any]:
    row: dict[str, Any] = {"entry": flag.number, "flag": flag.flag}
    if flag.tool is not None:
        row["tool"] = flag.tool.code
    return row


class _Question:
    """One question about many tools: what is read once for all of them."""

    def __init__(
        self,
        at: datetime,
        known_at: datetime | None,
        part: str,
        otherwise: IfOtherwise,
        history: History | None = None,
        kinds: Collection[str] = Kind.WITH_SURFACE,
    ) -> None:
        self.at, self.part, self.known_at, self.kinds = at, part, known_at, kinds
        self.more = otherwise.more
        self.anew = otherwise.zone is not None or bool(self.more)
        self.history = history or History(
            otherwise.book or recipe_book(), otherwise.zone or Shop.current().zone, at, known_at
        )
        self.zone = self.history.zone
        self.summaries: dict[int, Summary] = {}
        self.asked: list[Tool] = []
        self.inside: dict[int, list[Tool]] = {}
        self.flags: dict[int, list[Flagged]] = {}

    def read(self, tools: Iterable[Keyed] | None) -> None:
        """Reads the asked tools, the inserts of asked molds, and the histories where stored states do not answer."""
        everyone = Summary.objects.select_related("tool__release_system").filter(tool__kind__in=self.kinds)
        if tools is not None:
            wanted = {tool.pk for tool in tools}
            members = Entry.objects.filter(mold__in=wanted, kind="installed").values("tool_id")
            everyone = everyone.filter(Q(tool__in=wanted) | Q(tool__in=members))
        self.take(everyone, None if tools is None else wanted)

    def take(self, summaries: Iterable[Summary], wanted: set[int] | None) -> None:
        """The same of summaries that were read; wanted: the keys of the asked tools, None: all."""
        self.summaries = {one.tool_id: one for one in summaries if one.tool.kind in self.kinds}
        asked = self.summaries.keys() if wanted is None else wanted & self.summaries.keys()
        self.asked = sorted((self.summaries[pk].tool for pk in asked), key=attrgetter("code"))
        self.history.read(pk for pk in self.summaries if not self._stored(pk))
        for made in self.more:
            self.history.suppose(made)
        self._read_inserts()

    def _stored(self, pk: int) -> bool:
        last = self.summaries[pk].last_at
        return self.known_at is None and not self.anew and (last is None or last <= self.at)

    def _read_inserts(self) -> None:
        for pk, summary in self.summaries.items():
            if summary.tool.kind != Kind.INSERT:
                continue
            if self._stored(pk):
                molds = [summary.in_mold_of_id]
            else:
                molds = [stay.mold for stay in self.history.stays(pk) if stay.holds(self.at)]  # type: ignore[misc]
            for mold in molds:
                self.inside.setdefault(mold or 0, []).append(summary.tool)
        for inserts in self.inside.values():
            inserts.sort(key=attrgetter("code"))

    def read_flags(self) -> None:
        """Reads what was flagged on the asked tools."""
        stored = [tool.pk for tool in self.asked if self._stored(tool.pk)]
        flags = Flag.objects.filter(surface__in=stored) if len(stored) < _MANY else Flag.objects.all()
        rows = flags.order_by("entry_id", "id").values_list("surface_id", "entry__number", "flag", "entry__tool_id")
        for surface, number, flag, owner in rows:
            self.flags.setdefault(surface, []).append(Flagged(number, flag, self._other(surface, owner)))

    def _other(self, surface: int, owner: int) -> Tool | None:
        if owner == surface:
            return None
        known = self.summaries.get(owner)
        return known.tool if known is not None else Tool.objects.get(pk=owner)

    def _state(self, tool: Tool) -> State:
        if self._stored(tool.pk):
            return decode(self.summaries[tool.pk].state)
        return self.history.folded(tool).state

    def _own(self, tool: Tool) -> Status:
        return status_of(self._state(tool), tool.pk, self.history.book, self.zone, self.at, self.part)

    def surfaces(self, tool: Tool) -> list[Surface]:
        """One tool's surface and those of the inserts in it."""
        each = [tool, *self.inside.get(tool.pk, [])]
        return [Surface(one, self._state(one), self._own(one)) for one in each]

    def answer(self, tool: Tool) -> Standing:
        """One tool's answer."""
        inserts = self.inside.get(tool.pk, [])
        own = self._own(tool)
        status = combine(own, [self._own(insert) for insert in inserts])
        decides = next((insert for insert in inserts if insert.pk == status.surface), tool)
        return Standing(tool, own, status, inserts, self._flags(tool), self._family(decides))

    def _family(self, surface: Tool) -> str:
        recipe = self.history.book.at(self._state(surface).system, self.at)
        return recipe.family if recipe is not None else "other"

    def _flags(self, tool: Tool) -> list[Flagged]:
        if self._stored(tool.pk):
            return self.flags.get(tool.pk, [])
        owners: dict[int, int] = {entry.id: entry.tool for _, _, entry in self.history.sequence(tool)}  # type: ignore[misc]
        numbers: dict[int, int] = {}
        for owner in set(owners.values()):
            numbers.update({one.id: place for place, one in enumerate(self.history.log(owner), 1)})
        folded = self.history.folded(tool).flags
        return [Flagged(numbers[pk], flag, self._other(tool.pk, owners[pk])) for pk, flag in folded]
