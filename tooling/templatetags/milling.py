"""The section of cutter, holder and wall on pages, and the same on paper."""

from typing import Any

from django import template
from django.utils.safestring import SafeString

from tooling.drawing import ink
from tooling.drawing.clearance import clearance
from tooling.words.plug_working import section_said, setting

register = template.Library()


@register.simple_tag
def wall_section(one: Any, units: str) -> SafeString:
    """Of a pass; nothing where its sizes do not say how it stands."""
    of = setting(one)
    return clearance(of, section_said(one, units)) if of is not None else SafeString("")


@register.simple_tag
def paper_wall_section(one: Any, units: str) -> SafeString:
    """The same in black, with the letters of paper."""
    return ink.on_paper(wall_section(one, units))
