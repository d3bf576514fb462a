"""Everything that the page of one tool shows, in a fixed number of queries and without folding a history."""

from dataclasses import dataclass
from datetime import datetime, tzinfo
from operator import attrgetter

from django.db.models import Q

from tooling.calc.recipe import RecipeBook
from tooling.calc.state import State, decode
from tooling.calc.status import Status, combine, status_of
from tooling.calc.tape import Tape, tape_of
from tooling.models import RecipeVersion, Shop, Summary, Tool
from tooling.selectors.family import Family
from tooling.selectors.timeline import ALL, Timeline, Wanted, timeline


@dataclass(frozen=True, slots=True)
class Surface:
    """One surface by itself: its stored state, what that says now, and the version of the recipe it is judged by."""

    tool: Tool
    summary: Summary
    state: State
    status: Status
    tape: Tape | None
    recipe: RecipeVersion | None

    @property
    def own(self) -> Status:
        """Its status by itself, by the name that lists have for it."""
        return self.status

    @property
    def family(self) -> str:
        """The family of its recipe; "other" where it has none."""
        return self.recipe.family if self.recipe is not None else "other"


@dataclass(frozen=True, slots=True)
class Kin:
    """Where a tool comes from and what came from it; `others` are of the same matched set.

    before, after: whose place it took, and what took its own. family: of it and these alone, to draw its line.
    """

    made_from: Tool | None
    same_origin: list[Tool]
    made: list[Tool]
    others: list[Tool]
    before: Tool | None
    after: list[Tool]
    family: Family

    @property
    def any(self) -> bool:
        """Whether there is anything to say."""
        return bool(self.made_from or self.made or self.others or self.before or self.after)


@dataclass(frozen=True, slots=True)
class ToolPage:
    """A tool at a moment: with its inserts (`status`), by itself (`surface`), and all that is known of it.

    It is said in the words of lists, so it has the names of a row there.
    """

    tool: Tool
    shop: Shop
    at: datetime
    surface: Surface
    status: Status
    inside: list[Surface]
    history: Timeline
    kin: Kin
    aliases: list[str]

    @property
    def summary(self) -> Summary:
        """The tool's own summary."""
        return self.surface.summary

    @property
    def own(self) -> Status:
        """The tool without its inserts."""
        return self.surface.status

    @property
    def in_it(self) -> bool:
        """Whether a part lies in it."""
        return self.own.in_mold is not None

    @property
    def held(self) -> bool:
        """Whether it is taped off."""
        return self.status.status == "held"

    @property
    def deciding(self) -> Surface:
        """The surface that the status comes from."""
        return next((one for one in self.inside if one.tool.pk == self.status.surface), self.surface)

    @property
    def on(self) -> str:
        """The code of the insert that decides, or ""."""
        return "" if self.deciding is self.surface else self.deciding.tool.code

    @property
    def family(self) -> str:
        """The family of the recipe of the deciding surface."""
        return self.deciding.family

    @property
    def fewest(self) -> Surface | None:
        """The insert with the fewest pulls left, where it has fewer than the tool itself."""
        fewer = [one for one in self.inside if one.own.pulls_left < self.own.pulls_left]
        return min(fewer, key=lambda one: one.own.pulls_left, default=None) if self.status.pulls_left else None


_SHOWN = (
    "summary__home", "summary__seen_place", "summary__held_by", "summary__laid_up_by",
    "summary__in_mold_of__summary", "made_from", "in_place_of",
)  # fmt: skip


def found(code: str) -> Tool | None:
    """The tool that has or once had that code, with what its page shows of it."""
    if "\x00" in code:  # no database could have it
        return None
    return Tool.objects.called(code).select_related(*_SHOWN).first()


def page(tool: Tool, at: datetime, wanted: Wanted = ALL) -> ToolPage:
    """The page of a tool that `found` gave, at a moment that is not before its last entry."""
    shop = Shop.current()
    judge = _Judge(at, shop.zone)
    surface = judge.surface(tool.summary)
    inserts = Summary.objects.filter(in_mold_of=tool).select_related("tool", "held_by").order_by("tool__code")
    inside = [judge.surface(summary) for summary in inserts]
    return ToolPage(
        tool=tool,
        shop=shop,
        at=at,
        surface=surface,
        status=combine(surface.status, [one.status for one in inside]),
        inside=inside,
        history=timeline(tool, wanted, shop.zone),
        kin=_kin(tool, [one.tool for one in inside]),
        aliases=list(tool.aliases.values_list("code", flat=True)),
    )


class _Judge:
    """The recipes of the shop, read once for all surfaces of a page."""

    def __init__(self, at: datetime, zone: tzinfo) -> None:
        self.at, self.zone = at, zone
        self.versions = list(RecipeVersion.objects.select_related("system"))
        self.book = RecipeBook(version.as_calc() for version in self.versions)

    def surface(self, summary: Summary) -> Surface:
        state = decode(summary.state)
        tool = summary.tool
        return Surface(
            tool=tool,
            summary=summary,
            state=state,
            status=status_of(state, tool.pk, self.book, self.zone, self.at),
            tape=tape_of(state, self.book, self.zone, self.at) if tool.has_surface else None,
            recipe=self._version(state),
        )

    def _version(self, state: State) -> RecipeVersion | None:
        holds = self.book.at(state.system, self.at)
        if holds is None:
            return None
        same = (one for one in self.versions if (one.system.code, one.valid_from) == (holds.code, holds.valid_from))
        return next(same)


def _kin(tool: Tool, inside: list[Tool]) -> Kin:
    related = Q(made_from=tool) | Q(in_place_of=tool)
    if tool.made_from_id is not None:
        related |= Q(made_from=tool.made_from_id)
    if tool.matched_set:
        related |= Q(matched_set=tool.matched_set)
    # Put in order here: asked to do it, the database reads all tools in the order of their codes.
    rows = Tool.objects.filter(related).exclude(pk=tool.pk).select_related("summary").order_by()
    found = sorted(rows, key=attrgetter("code"))
    near = [tool, *found, *filter(None, (tool.made_from, tool.in_place_of))]
    return Kin(
        made_from=tool.made_from,
        same_origin=[one for one in found if tool.made_from_id and one.made_from_id == tool.made_from_id],
        made=[one for one in found if one.made_from_id == tool.pk],
        others=[one for one in found if tool.matched_set and one.matched_set == tool.matched_set],
        before=tool.in_place_of,
        after=[one for one in found if one.in_place_of_id == tool.pk],
        family=Family(tool, {one.pk: one for one in near}, inside={tool.pk: inside} if inside else {}),
    )
