"""A part that gets hotter than the tool, an insert in it, or the release recipe on one of them stands."""

from collections.abc import Collection, Iterator
from dataclasses import replace
from decimal import Decimal

from django.utils.translation import gettext as _

from tooling.calc.thermal import BEYOND, WARNING, service_margin
from tooling.models import Kind, Tool
from tooling.selectors.service_limit import ServiceLimit, limits_from
from tooling.selectors.usable.asked import Asked
from tooling.selectors.usable.reason import LEAD, Reason
from tooling.words.deeds import CHANGE, CHANGE_PART
from tooling.words.usable import above_glass_transition, ask_the_maker, degrees, peak_not_said, recipe_too_hot, too_hot


def reasons(asked: Asked) -> Iterator[tuple[int, Reason]]:
    """By the part's peak, else its cure; where neither is known, that tools have limits and nobody can say."""
    revision = asked.revision
    if revision is None:
        return
    peak = revision.peak_c if revision.peak_c is not None else revision.cure_c
    together = list(asked.together())
    tools = {tool.pk: tool for _key, tool in together}
    limits = limits_from(tools.values(), asked.read.repairs, asked.at, asked.shop.zone, asked.units)
    if peak is None:
        yield from _not_said(asked, limits.keys())
        return
    for key, tool in together:
        reason = _of_tool(asked, tool, peak, limits.get(tool.pk))
        if reason is not None:
            yield key, reason
    for key, found in asked.surfaces.items():
        for surface in found:
            recipe = asked.recipe_of(surface)
            if recipe is not None and recipe.max_part_cure_c is not None and peak > recipe.max_part_cure_c:
                limit = degrees(recipe.max_part_cure_c, asked.units)
                text = recipe_too_hot(asked.part, degrees(peak, asked.units), recipe.system.code, limit)
                yield key, _hot("recipe_too_hot", asked, surface.tool, text)


def _not_said(asked: Asked, limited: Collection[int]) -> Iterator[tuple[int, Reason]]:
    """Once for each mold with what is in it; a trim mask is never in the heat."""
    for tool in asked.tools:
        inside = {one.tool.pk for one in asked.surfaces.get(tool.pk, ())}
        if tool.kind != Kind.TRIM_MASK and not limited.isdisjoint({tool.pk, *inside}):
            said = Reason("peak_not_said", tool.code, peak_not_said(), deed=CHANGE_PART, stops=False)
            yield tool.pk, replace(said, revision=asked.revision)


def _of_tool(asked: Asked, tool: Tool, peak: Decimal, limit: ServiceLimit | None) -> Reason | None:
    stands = None if limit is None else float(limit.celsius)
    glass = tool.glass_transition_c
    margin = service_margin(float(peak), stands, None if glass is None else float(glass))
    said = asked.part, degrees(peak, asked.units)
    if margin.verdict == BEYOND and limit is not None:
        return _hot("too_hot", asked, tool, too_hot(*said, limit.source))
    if margin.verdict == WARNING and glass is not None:
        text = above_glass_transition(*said, degrees(glass, asked.units))
        return Reason("above_glass_transition", tool.code, text, ask_the_maker(), CHANGE, stops=False)
    return None


def _hot(code: str, asked: Asked, tool: Tool, text: str) -> Reason:
    mend = _("Cure it cooler, or lay it up in another tool.")
    return Reason(code, tool.code, text, mend, CHANGE_PART, override=LEAD, revision=asked.revision)
