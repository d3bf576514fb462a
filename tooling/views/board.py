"""The morning board."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from functools import partial

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils.functional import Promise
from django.utils.translation import gettext_lazy as _
from django.views.decorators.http import require_safe

from shared.access import can_lead, can_log, can_read, needs
from shared.snapshot import one_moment
from tooling.models import Entry, Kind, Shop
from tooling.selectors import board_more
from tooling.selectors.board import MOST, Board, board, sets_in
from tooling.selectors.first_steps import first_steps
from tooling.selectors.holds import standing_holds
from tooling.selectors.how_off import hows_not_said
from tooling.selectors.in_making import in_making
from tooling.selectors.lay_up_times import LayUpFrom
from tooling.selectors.paging import COUNTED
from tooling.selectors.pictures import of_entries
from tooling.selectors.wanted_now import tools_wanted, wanted_now
from tooling.views.begin import path_of_steps
from tooling.views.wanted import beside_board
from tooling.words import in_making as made
from tooling.words import lines
from tooling.words.lines import Around, Line
from tooling.words.opening import Clause, opening
from tooling.words.places import not_back


@dataclass(frozen=True, slots=True)
class Section:
    """A group of the board with its heading, and how many of it are not shown.

    `many`: or more than that. `idle`: none of them was used lately.
    """

    anchor: str
    title: str | Promise
    lines: list[Line]
    more: int
    many: bool
    idle: bool


_SECTIONS: tuple[tuple[str, str, str | Promise, Callable[..., Line]], ...] = (
    ("in_molds", "molds", _("In the molds now"), lines.in_mold),
    ("ready", "ready", _("Can be laid up now"), lines.ready),
    ("soon", "soon", _("Nearly ready"), lines.soon),
    ("wax", "coat", _("Wax or release first"), lines.wax),
    ("making", "making", _("In the making"), made.row),  # with how far each is
    ("held", "held", _("Held"), lines.held),  # with what holds each and its pictures
    ("not_home", "home", _("Not home"), lines.not_home),
)
# Where a row says that a wanted part needs it.
_OF_WANTED = frozenset({"ready", "soon", "wax"})
_PLUGS_TOO = _("In the molds and on the plugs now")


@needs(can_read)
@require_safe
def morning(request: HttpRequest) -> HttpResponse:
    """Every tool in the group of what comes next for it; before there is a tool, what to do first."""
    with one_moment() as at:
        shop = Shop.current()
        wanted = wanted_now(at, shop.zone, by_today=True, units=request.user.units)
        beside = beside_board(request.user, at)
        needed = tools_wanted(wanted)
        found = board(at, needed, shop)
        on = [row.deciding for row in found.held.rows]
        holds = standing_holds([(one.summary, one.recipe) for one in on])
        hows = hows_not_said(_of_sets(found), at)
        at_steps = in_making(at, [row.tool.pk for row in found.making.rows]) if found.making.rows else []
        asked = board_more.Morning(at, shop, found.in_molds.rows, request.user.units, can_lead(request.user))
        more, of_parts = board_more.sections(asked), board_more.beside(asked)
    if (path := _first_steps(request, found)) is not None:
        return path
    pictures = of_entries(one.pk for some in holds.values() for one in some)
    of_held = partial(lines.held, holds=holds, pictures=pictures)
    of_making = partial(made.row, made={one.tool.pk: one for one in at_steps}, lead=can_lead(request.user))
    told = {"held": of_held, "making": of_making}
    context = {
        "sections": [*_sections(found, told, hows, needed, of_parts), *map(_section, more)],
        "wanted": wanted,
        "opening": _opening(found, [one.opening for one in more]),
        "may_log": can_log(request.user),
        **beside,
    }
    return render(request, "tooling/board.html", {**context, **_frame(found)})


def _of_sets(found: Board) -> list[int]:
    groups = (getattr(found, name) for name, *_more in _SECTIONS)
    return [row.tool.pk for group in groups for row in group.rows if row.tool.matched_set]


def _sections(
    found: Board,
    told: Mapping[str, Callable[..., Line]],
    hows: Mapping[int, Entry],
    wanted: Mapping[int, LayUpFrom | None],
    of_parts: Mapping[int, tuple[str, ...]],
) -> list[Section]:
    around = Around(found.at, found.shop.zone)
    of_mold = partial(lines.in_mold, sets=sets_in(found.in_molds.rows), of_parts=of_parts)
    of = {**told, "in_molds": of_mold}
    sections = []
    for name, anchor, title, plain in _SECTIONS:
        group, say = getattr(found, name), of.get(name, plain)
        if len(group):
            said = [replace(say(row, around), how=hows.get(row.tool.pk)) for row in group.rows]
            if name in _OF_WANTED:
                said = [lines.of_wanted(line, around, wanted) for line in said]
            sections.append(
                Section(anchor, _title(found, anchor, title), said, group.more, group.many, len(said) < MOST)
            )
    return sections


def _section(of: board_more.MoreRows) -> Section:
    """One of another app."""
    return Section(of.anchor, of.title, of.lines, of.more, False, False)


def _title(found: Board, anchor: str, title: str | Promise) -> str | Promise:
    return _PLUGS_TOO if anchor == "molds" and _on_plugs(found) else title


def _on_plugs(found: Board) -> int:
    return sum(row.tool.kind == Kind.PLUG for row in found.in_molds.rows)


def _opening(found: Board, more: list[Clause]) -> list:
    counts = {anchor: len(getattr(found, name)) for name, anchor, _, _ in _SECTIONS}
    counts["coat"] = len(found.wax.rows)
    # One part in two halves is one part.
    sets = sets_in(found.in_molds.rows)
    parts = [row for row in found.in_molds.rows if not any(code < row.tool.code for code in sets.get(row.tool.pk, ()))]
    counts["molds"] -= len(found.in_molds.rows) - len(parts)
    up = [row for row in parts if row.status.ready_at is not None and row.status.ready_at <= found.at]
    molds_only = all(row.tool.kind == Kind.MOLD for row in found.ready.rows)
    today = found.at.astimezone(found.shop.zone).date()
    late = sum(not_back(row.summary, today) for row in found.not_home.rows)
    return opening(
        counts,
        not_back=late,
        time_is_up=len(up),
        on_plugs=_on_plugs(found),
        molds_only=molds_only,
        counted=COUNTED,
        more=more,
    )


def _frame(found: Board) -> dict[str, object]:
    return {"shop": found.shop, "zone": found.shop.zone, "now": found.at}


def _first_steps(request: HttpRequest, found: Board) -> HttpResponse | None:
    """The path of a new shop: before there is a tool, and for a lead while the only one has no history."""
    groups = (getattr(found, name) for name, *_more in _SECTIONS)
    if not found.empty and not (can_lead(request.user) and sum(map(len, groups)) == 1):
        return None
    steps = first_steps()
    return path_of_steps(request, steps, _frame(found)) if steps is not None else None
