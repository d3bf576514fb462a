"""The pictures of trimming on pages, and the same on paper."""

from collections.abc import Sequence
from typing import Any

from django import template
from django.utils.html import format_html
from django.utils.safestring import SafeString

from shared.units import METRIC
from tooling.drawing import ink
from trimfixtures.calc.outline import Outline
from trimfixtures.calc.points import Point
from trimfixtures.drawing.deviations import BESIDE, DESK, PHONE, deviations
from trimfixtures.drawing.plan import plan
from trimfixtures.drawing.section import missing, section
from trimfixtures.words.refusals import not_drawn

register = template.Library()


def units_of(context: template.Context) -> str:
    """The units of whoever reads it; a sheet says them itself."""
    return context.get("units") or getattr(context.get("user"), "units", METRIC)


@register.simple_tag(takes_context=True)
def cut_section(context: template.Context, cut: Any) -> SafeString:
    """A cut in section; nothing where its sizes do not say how it stands."""
    return section(cut, units_of(context))


@register.simple_tag(takes_context=True)
def cut_not_drawn(context: template.Context, cut: Any) -> str:
    """Why a cut is not drawn in section; "" where it is."""
    refusal = missing(cut)
    return "" if refusal is None else not_drawn(refusal, units_of(context), is_said=bool(cut.refusal))


@register.simple_tag(takes_context=True)
def paper_cut_section(context: template.Context, cut: Any) -> SafeString:
    """The same in black, with the letters of paper."""
    return ink.on_paper(section(cut, units_of(context)))


@register.simple_tag
def trim_plan(outline: Outline | None, cuts: Sequence[Any], points: Sequence[Point], datum: str = "") -> SafeString:
    """The part from above with its cuts and the points of its check; without an outline the cuts by themselves."""
    return plan(outline, cuts, points, datum=datum)


@register.simple_tag
def paper_trim_plan(
    outline: Outline | None, cuts: Sequence[Any] | None, points: Sequence[Point], out: Sequence[Point] = ()
) -> SafeString:
    """The same in black, with the letters of paper; without cuts for the sheet of a check."""
    return ink.on_paper(plan(outline, cuts or (), points, out=out))


@register.simple_tag(takes_context=True)
def edge_deviations(
    context: template.Context,
    points: Sequence[Point],
    limit: float | None,
    length: float | None,
    before: Sequence[Point] = (),
) -> SafeString:
    """How far a cut edge is off, once for a phone and once for a desk: the letters of both are as large."""
    both = (deviations(points, limit, length, units_of(context), before=before, width=width) for width in (PHONE, DESK))
    return format_html('<div class="for-phone">{}</div><div class="for-desk">{}</div>', *both)


@register.simple_tag(takes_context=True)
def paper_edge_deviations(
    context: template.Context,
    points: Sequence[Point],
    limit: float | None,
    length: float | None,
    before: Sequence[Point] = (),
    *,
    across: bool = False,
) -> SafeString:
    """The same in black, with the letters of paper: with room for the table beside it, or across the whole sheet."""
    return ink.on_paper(
        deviations(points, limit, length, units_of(context), before=before, width=DESK if across else BESIDE)
    )
