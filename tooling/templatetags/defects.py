"""Defects on the pictures of their tool, and their sizes in the reader's units."""

from collections.abc import Iterable
from typing import Any

from django import template
from django.utils.safestring import mark_safe
from django.utils.translation import gettext as _

from tooling.drawing.defect_marks import Mark, marks_on
from tooling.models import Tool
from tooling.selectors.defects import DefectNow
from tooling.words import defects as words

register = template.Library()


@register.inclusion_tag("tooling/_defects_drawn.html")
def defects_drawn(defects: Iterable[DefectNow], tool: Tool, how: str = "whole") -> dict[str, Any]:
    """Each picture that has places of these defects on it, with all of them."""
    on: dict[int, list[DefectNow]] = {}
    for one in defects:
        if one.mark is not None and one.defect.picture is not None:
            on.setdefault(one.defect.picture.pk, []).append(one)
    return {"drawn": [_drawn(of, tool) for of in on.values()], "how": how}


def _drawn(defects: list[DefectNow], tool: Tool) -> dict[str, Any]:
    picture = defects[0].defect.picture
    assert picture is not None
    marks = [Mark(one.number, *(one.mark or (0, 0)), closed=not one.is_open) for one in defects]
    numbers = ", ".join(str(one.number) for one in defects)
    says = _("Where these defects are: %(numbers)s") % {"numbers": numbers}
    return {
        "picture": picture,
        "tool": tool,
        "marks": mark_safe(marks_on(picture.width, picture.height, marks, says)),  # noqa: S308  (our own drawing)
    }


@register.inclusion_tag("tooling/_defects_drawn.html")
def defect_drawn(one: DefectNow, tool: Tool) -> dict[str, Any]:
    """One defect on its picture."""
    return defects_drawn([one], tool)


@register.simple_tag
def defect_stands(one: DefectNow) -> str:
    """Still there. Mended. Gone."""
    return words.stands(one.is_open, one.closed_by or one.last)


@register.simple_tag
def defect_last(one: DefectNow, units: str) -> str:
    """Looked at: 18 mm, larger"""
    return words.last_said(one.last, units)


@register.simple_tag
def defect_said(one: DefectNow, units: str) -> str:
    """crack, flange, 12 mm"""
    return words.what(one, units)


@register.simple_tag
def defect_growth(one: DefectNow, units: str) -> str:
    """Larger: 18 mm now, 12 mm at first."""
    return words.growth(one, units)
