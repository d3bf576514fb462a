"""The pictures of trimming on pages, and the same on paper."""

from typing import Any

from django import template
from django.utils.safestring import SafeString

from shared.units import METRIC
from trimfixtures.drawing import ink
from trimfixtures.drawing.section import section

register = template.Library()


def units_of(context: template.Context) -> str:
    """The units of whoever reads it; a sheet says them itself."""
    return context.get("units") or getattr(context.get("user"), "units", METRIC)


@register.simple_tag(takes_context=True)
def cut_section(context: template.Context, cut: Any) -> SafeString:
    """A cut in section; nothing where its sizes do not say how it stands."""
    return section(cut, units_of(context))


@register.simple_tag(takes_context=True)
def paper_cut_section(context: template.Context, cut: Any) -> SafeString:
    """The same in black, with the letters of paper."""
    return ink.on_paper(section(cut, units_of(context)))
