"""What the sheet of a tool set says on paper: the set along the racks, and when it can be laid up."""

from collections import defaultdict
from dataclasses import dataclass, field
from datetime import datetime
from decimal import Decimal

from shared.units import METRIC
from tooling.calc.status import Status
from tooling.models import Kind, PartRevision, Picture, Place, Shop, Summary, Tool
from tooling.selectors.lay_up_from import lay_up_from
from tooling.selectors.lay_up_times import LayUpFrom
from tooling.selectors.pictures import mains
from tooling.selectors.place_tree import in_order
from tooling.selectors.service_limit import ServiceLimit, limits_from
from tooling.selectors.tool_set import LineNow, ToolSet, tool_set
from tooling.selectors.usable.asked import Asked
from tooling.selectors.whereabouts import Whereabouts, whereabouts
from tooling.selectors.work_cautions import at_work
from tooling.words.cautions import Caution
from tooling.words.when import with_dates

# A tool's limit stands out where the part gets nearer to it than this [°C]: common practice, no source.
NEAR_C = Decimal(20)


@dataclass(frozen=True, slots=True)
class ToGet:
    """A tool to get: its line, the other ones that would do, and what stands beside it.

    `place`: where it lies itself, or the mold that it is in (`inside`). `status`: of its own surface; None without one.
    `limit`: how hot it may get; None where nobody knows. `near`: whether the part gets near to it.
    `holds`: the mold inserts that are lifted with it; `part_in`: whether a part is as well.
    """

    now: LineNow
    tool: Tool
    summary: Summary
    place: Place | None
    inside: Tool | None
    status: Status | None
    family: str
    film: bool
    picture: Picture | None
    limit: ServiceLimit | None
    near: bool
    part_in: bool
    holds: list[Tool]
    others: list[LineNow] = field(default_factory=list)


@dataclass(frozen=True, slots=True)
class AtPlace:
    """A place on the walk, what it lies in from the inside out, and what is got there.

    None: a place that nobody can walk to.
    """

    place: Place | None
    above: list[Place]
    tools: list[ToGet]


@dataclass(frozen=True, slots=True)
class PutIn:
    """A mold insert that goes into its mold, by their codes; `out_of`: the mold that it is in instead, or "".

    `waits`: whether one of the two has work or a wait before it. `mend`: what the answer says of it.
    """

    insert: str
    mold: str
    out_of: str
    waits: bool
    mend: str


@dataclass(frozen=True, slots=True)
class SetSheetOf:
    """The set of a revision at a moment. `hardware`: each with what would do in its place.

    `cautions`: of the work with its trim masks.
    """

    revision: PartRevision
    at: datetime
    shop: Shop
    answer: ToolSet
    found: LayUpFrom
    places: list[AtPlace]
    inserts: list[ToGet]
    put_in: list[PutIn]
    hardware: list[tuple[LineNow, list[LineNow]]]
    cautions: list[Caution]

    @property
    def tools(self) -> list[ToGet]:
        """All that is got, in the order of the walk."""
        return [one for one in self.places for one in one.tools]


def set_sheet_of(
    revision: PartRevision, at: datetime, *, units: str = METRIC, wanted: datetime | None = None
) -> SetSheetOf:
    """The sheet of a revision's tool set, in a fixed number of queries; every time in its words has its date.

    wanted: when somebody wants to lay up, so that the sheet says when to start.
    """
    with with_dates():
        answer = tool_set(revision, at, units=units)
        found = lay_up_from(answer, wanted=wanted)
    tools = _to_get(answer, units) if answer.lines else []
    return SetSheetOf(
        revision=revision,
        at=at,
        shop=answer.asked.shop,
        answer=answer,
        found=found,
        places=_walk(tools),
        inserts=[one for one in tools if one.now.role == Kind.INSERT],
        put_in=_put_in(answer, found) if found.cannot is None else [],
        hardware=[pair for pair in answer.with_others if pair[0].tool is None],
        cautions=at_work(Kind.TRIM_MASK, [one.tool.pk for one in tools if one.tool.kind == Kind.TRIM_MASK]),
    )


def _to_get(answer: ToolSet, units: str) -> list[ToGet]:
    asked = answer.asked
    offered = [(line, others, line.tool) for line, others in answer.with_others if line.tool is not None]
    keys = [tool.pk for _line, _others, tool in offered]
    where, pictures = asked.whereabouts, mains(keys)
    limits = _limits(asked, [tool for _line, _others, tool in offered], units)
    peak = _peak(asked)
    foreign = {one.mold.pk for one in where.values() if one.mold is not None} - where.keys()
    lies = {**where, **whereabouts(foreign, answer.at)}
    found = []
    for line, others, tool in offered:
        mold = where[tool.pk].mold
        surface, *holds = asked.surfaces.get(tool.pk) or [None]
        recipe = asked.recipe_of(surface) if surface is not None else None
        limit = limits.get(tool.pk)
        found.append(
            ToGet(
                now=line, tool=tool, summary=tool.summary, inside=mold,
                place=_place(lies[tool.pk if mold is None else mold.pk]),
                status=surface.status if surface is not None else None,
                family=recipe.family if recipe is not None else "other",
                film=recipe is not None and bool(recipe.film_every_pull or recipe.film_first_pulls),
                picture=pictures.get(tool.pk), limit=limit,
                near=limit is not None and peak is not None and limit.celsius - peak < NEAR_C,
                part_in=surface is not None and surface.state.part is not None,
                holds=[one.tool for one in holds], others=others,
            )
        )  # fmt: skip
    return found


def _place(where: Whereabouts) -> Place | None:
    """Where it can be got; what is lent or lost lies nowhere."""
    return None if where.lent or where.lost else where.place


def _peak(asked: Asked) -> Decimal | None:
    """How hot the part gets; None where nobody said."""
    revision = asked.revision
    return None if revision is None else revision.peak_c if revision.peak_c is not None else revision.cure_c


def _limits(asked: Asked, tools: list[Tool], units: str) -> dict[int, ServiceLimit]:
    """How hot each of them may get, where that is known."""
    return limits_from(tools, asked.read.repairs, asked.at, asked.shop.zone, units)


def _put_in(answer: ToolSet, found: LayUpFrom) -> list[PutIn]:
    """The mold inserts that go in when all of them wait for nothing more, in the order of the set."""
    asked, tools = answer.asked, {line.tool.code: line.tool for line in answer.lines if line.tool is not None}
    busy = {one.tool.code for one in found.works if one.steps or one.ready_from or one.out_at}
    missing = {
        reason.tool: (line.tool.code, reason)
        for line in answer.needed()
        if line.tool is not None
        for reason in line.reasons
        if reason.code == "insert_missing"
    }
    put_in = []
    for code in (code for code in tools if code in missing):
        mold, reason = missing[code]
        other = asked.whereabouts[tools[code].pk].mold
        waits = bool({code, mold} & busy)
        put_in.append(PutIn(code, mold, other.code if other is not None else "", waits, reason.mend))
    return put_in


def _walk(tools: list[ToGet]) -> list[AtPlace]:
    """Place by place in the order of the racks; what lies nowhere last, a mold insert behind the mold that it is in."""
    molds = {one.tool.pk for one in tools}
    under: dict[int, list[ToGet]] = defaultdict(list)
    at: dict[Place | None, list[ToGet]] = defaultdict(list)
    for one in tools:
        if one.inside is not None and one.inside.pk in molds:
            under[one.inside.pk].append(one)
        else:
            at[one.place].append(one)
    places = in_order(Place.objects.all())
    by_key = {place.pk: place for place, _depth in places}
    found = [AtPlace(place, _above(place, by_key), at[place]) for place, _depth in places if place in at]
    found += [AtPlace(None, [], at[None])] if at[None] else []
    return [
        AtPlace(one.place, one.above, [one for mold in one.tools for one in (mold, *under[mold.tool.pk])])
        for one in found
    ]


def _above(place: Place, by_key: dict[int, Place]) -> list[Place]:
    """What a place lies in, from the inside out."""
    found: list[Place] = []
    above = by_key.get(place.parent_id or 0)
    while above is not None and above not in found:
        found.append(above)
        above = by_key.get(above.parent_id or 0)
    return found
