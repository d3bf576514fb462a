"""The page of one tool."""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_safe

from shared import clock
from shared.access import can_lead, can_log, can_read, needs
from shared.snapshot import as_of_one_moment
from tooling.drawing.family import family_line
from tooling.models import Kind, SetRole
from tooling.selectors import panels, pictures
from tooling.selectors.about import about as known_of
from tooling.selectors.acceptance import may_accept
from tooling.selectors.holds import HoldSaid, said_with_pictures, standing_holds
from tooling.selectors.how_off import how_not_said
from tooling.selectors.inserts_back import not_counted
from tooling.selectors.lead_notes import unseen_of
from tooling.selectors.made_again import lost_with, made_again
from tooling.selectors.matched import in_with
from tooling.selectors.service_limit import service_limit
from tooling.selectors.set_lines import sets_of
from tooling.selectors.timeline import GROUPS, Wanted
from tooling.selectors.tool import Surface, ToolPage, found, page
from tooling.selectors.walk import starting_state
from tooling.services.on_paper import PAPERS, usual_paper
from tooling.views import counts, tool_stops
from tooling.views.deeds.base import strip_for
from tooling.views.no_tool import no_tool
from tooling.words import about as about_words
from tooling.words import history, working
from tooling.words import made_again as made_again_words
from tooling.words.deeds import (
    ACCEPT,
    AGAIN,
    FILM,
    FOUND,
    HAND_BACK,
    INSTALLED,
    INTERVAL,
    LAY_UP,
    REINSTATE,
    REMOVED,
    START,
    STEP,
    STOP,
    TELL,
    WORK,
    Deed,
    other_deeds,
)
from tooling.words.entries import Around
from tooling.words.lines import Around as Moment
from tooling.words.lines import about, laid_up, lift, next_for, one_part_with, part_in, said_of
from tooling.words.lines import inserts as inserts_said
from tooling.words.set_stops import instead
from tooling.words.status import Sentence, sentence
from tooling.words.told import told_to_lead


@dataclass(frozen=True, slots=True)
class Inside:
    """A mold insert in the tool, with its own state in words."""

    surface: Surface
    said: Sentence


@needs(can_read)
@require_safe
@as_of_one_moment
def tool(request: HttpRequest, code: str) -> HttpResponse:
    """A tool by its code; an old code and another case lead to its address."""
    one = found(code)
    if one is None:
        return no_tool(request, code)
    if one.code != code:
        query = request.META.get("QUERY_STRING", "")
        return redirect(reverse("tool", args=[one.code]) + (f"?{query}" if query else ""))
    shown = page(one, clock.now(), _wanted(request))
    return render(request, "tooling/tool.html", _context(request, shown))


def _wanted(request: HttpRequest) -> Wanted:
    """What of the history the address asks for; nonsense asks for nothing."""
    group, year = request.GET.get("entries", ""), _number(request.GET.get("year", ""))
    group, page = group if group in GROUPS else "", _number(request.GET.get("older", ""))
    return Wanted(page or (1 if group or year is not None else 0), group, year)


def _number(text: str) -> int | None:
    return int(text) if text.isascii() and text.isdigit() and len(text) < 9 else None


def _context(request: HttpRequest, shown: ToolPage) -> dict[str, object]:
    tool, zone = shown.tool, shown.shop.zone
    moment = Moment(shown.at, zone)
    sets = sets_of(tool) if tool.kind in SetRole.TAKES.values() else {}
    stops = tool_stops.of_tool(shown, sets, request.user)
    more = panels.panels(shown, request.user)
    said = instead(shown, _said_by(more, over=True) or said_of(shown, moment) or _said_by(more), stops.of)
    told = shown.history
    around = Around(shown.at, zone, told.tools, told.places, request.user.units, told.counts, told.loans)
    picture, pictures_on = pictures.shown(tool)
    return {
        "page": shown,
        "picture": picture,
        "pictures_on": pictures_on,
        "tool": tool,
        "summary": shown.summary,
        "about": about(shown),
        "said": said,
        "panels": more,
        "stops": stops,
        "sets": sets,
        "beside": _beside(shown, moment),
        "holds": _holds(shown),
        "inserts": [Inside(one, _said(one, moment)) for one in shown.inside],
        "lines": history.shown(shown.history.lines, tool, around),
        "folded": history.folded(shown.history) if shown.history.brief else (),
        "may_lead": can_lead(request.user),
        "may_log": can_log(request.user),
        "shop": shown.shop,
        "zone": zone,
        "now": shown.at,
        **_known(request, shown),
        **_worked_out(shown),
        **strip_for(request, tool, shown.shop),
        "met": counts.met(request),
        "kin_said": _kin_said(shown),
        "papers": [(key, paper.name) for key, paper in PAPERS.items()],
        "usual_paper": usual_paper(request.user.units),
        **(_deeds(shown, request.user, stops) if can_log(request.user) else {}),
    }


def _said_by(more: Iterable[panels.Panel], *, over: bool = False) -> Sentence | None:
    """How it stands by the word of a panel; `over`: of one that says more than its surface."""
    return next((one.said for one in more if one.said is not None and one.over >= over), None)


def _known(request: HttpRequest, shown: ToolPage) -> dict[str, object]:
    """Parts it serves, its next look-over, how hot it may get, its changes, and whether it can be put back home."""
    known, today = known_of(shown.tool, shown.at, shown.shop.zone), shown.at.astimezone(shown.shop.zone).date()
    return {
        "known": known,
        "groups": about_words.HISTORY_GROUPS,
        "look_over": about_words.look_over(known.look_over, today) if known.look_over is not None else "",
        "look_over_wanted": known.look_over is not None and known.look_over.is_wanted(today),
        "changes": [about_words.changed(one, request.user.units) for one in known.changes],
        "limit": service_limit(shown.tool, shown.at, request.user.units),
        "not_counted": not_counted(shown.tool, shown.inside, shown.at, shown.shop),
        "told": [told_to_lead(one, shown.at, shown.shop.zone) for one in unseen_of([shown.tool.pk])],
        "how": how_not_said(shown.tool),
        "put_back": shown.summary.away and not shown.summary.lent and can_log(request.user),
        "found": FOUND if shown.summary.seen_place_id is None else None,
    }


def _kin_said(shown: ToolPage) -> dict[str, object] | None:
    """Its line drawn, and whether it can be made again or what hangs on it; None where nothing is known of a family."""
    tool, retired = shown.tool, shown.summary.retired
    if not (shown.kin.any or tool.kind in (Kind.MOLD, Kind.INSERT)):
        return None
    if tool.kind == Kind.PLUG:
        again = made_again_words.lost(lost_with(tool), retired=retired)
    else:
        again = [one.brief for one in made_again([tool], shown.at).values()]
    return {"drawing": family_line(shown.kin.family, small=True), "again": again}


def _worked_out(shown: ToolPage) -> dict[str, object]:
    surface, zone = shown.surface, shown.shop.zone
    if not shown.tool.has_surface:
        return {}
    recipe = surface.recipe.as_calc() if surface.recipe is not None else None
    return {
        "steps": working.steps(surface.state, recipe, surface.status, zone) if recipe is not None else (),
        "facts": working.facts(surface.state, recipe, shown.at, zone, working.uncounted(starting_state(shown.tool))),
    }


def _beside(shown: ToolPage, moment: Moment) -> list[str]:
    """What stands under the sentence: the part that is in it, which insert has fewer pulls left."""
    said = []
    if shown.own.in_mold is not None:
        with_it = one_part_with(in_with(shown.tool, shown.summary))
        said += [with_it, laid_up(shown.summary, moment), part_in(shown.summary, shown.tool.kind), lift(shown.tool)]
    if shown.fewest is not None and not shown.on:
        said.append(inserts_said(shown)[-1])
    return [words for words in said if words]


def _holds(shown: ToolPage) -> list[HoldSaid]:
    """Every hold of the surface that decides, with its words and pictures."""
    if shown.status.status != "held":
        return []
    on = shown.deciding
    found = standing_holds([(on.summary, on.recipe)])
    return said_with_pictures(found, shown.at, shown.shop.zone).get(on.tool.pk, [])


def _said(one: Surface, moment: Moment) -> Sentence:
    return sentence(one.status, family=one.family, now=moment.now, zone=moment.zone)


def _deeds(shown: ToolPage, person: Any, stops: tool_stops.Stops) -> dict[str, object]:
    """The two or three deeds that make sense now, the one that stops it, and in a fold all others."""
    to, deeds, likely = next_for(shown, shown.at)
    if shown.summary.accept_again and shown.own.status not in ("held", "retired"):
        deeds = (*((ACCEPT,) if may_accept(person) else ()), *(one for one in deeds if one != LAY_UP))
        to, likely = shown.tool, True
    mend = stops.mends_first(next(iter(deeds), None))
    stop = None if shown.own.status in ("held", "retired") else STOP
    above = [*(deeds if to == shown.tool else ()), *((stop,) if stop else ())]
    others = other_deeds(
        shown.own,
        kind=shown.tool.kind,
        family=shown.surface.family,
        shown=above,
        left_out=_makes_no_sense(shown),
        lead=can_lead(person),
    )
    return {
        "deeds": deeds,
        "to": to,
        "likely": likely and mend is None,
        "mend": mend,
        "stop": stop,
        "tell": TELL,
        "others": others,
    }


def _makes_no_sense(shown: ToolPage) -> list[Deed]:
    """Deeds of its kind that are not for this one: a film without a recipe of one, an insert out that is not in."""
    recipe, summary, is_insert = shown.surface.recipe, shown.summary, shown.tool.kind == Kind.INSERT
    film = recipe is not None and (recipe.film_every_pull or recipe.film_first_pulls > 0)
    is_in = summary.in_mold_of_id is not None if is_insert else bool(shown.inside)
    without = {FILM: film, INTERVAL: recipe is not None, START: not summary.count, REMOVED: is_in}
    without |= {STEP: summary.making, WORK: summary.making, AGAIN: not summary.making}
    without |= {ACCEPT: summary.making or summary.accept_again, REINSTATE: summary.retired, HAND_BACK: summary.lent}
    return [deed for deed, fits in without.items() if not fits] + ([INSTALLED] if is_insert and is_in else [])
