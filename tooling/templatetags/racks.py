"""Racks as they are drawn on the screen and on paper."""

from typing import Any

from django import template
from django.utils.safestring import SafeString, mark_safe

from tooling.drawing import rack as drawing
from tooling.selectors.rack import Lies, RackDrawing, Shelf
from tooling.templatetags.face import lies_at, system_of, tool_at
from tooling.words.racks import beside

register = template.Library()


@register.simple_tag
def rack_shapes() -> SafeString:
    """The shapes that the tools of a page are drawn by, once a page and before the first rack."""
    return mark_safe(drawing.shapes())  # noqa: S308  (our own drawing)


@register.inclusion_tag("tooling/_lying.html", takes_context=True)
def lying(context: template.Context, shelf: Shelf, rack: RackDrawing) -> dict[str, Any]:
    """What lies on a shelf or in a bay, and what would."""
    system = system_of(context)
    where = {one.summary.pk: lies_at(context, one.summary) for one in shelf.gone}
    said = [
        _said(one, shelf, rack, beside(one, shelf.place, system, where.get(one.summary.pk, ""))) for one in shelf.drawn
    ]
    return {"shelf": shelf, "lies": said}


def _said(one: Lies, shelf: Shelf, rack: RackDrawing, words: str) -> dict[str, Any]:
    tool = one.tool
    strange = one.how != "gone" and one.summary.home_id != shelf.place.pk
    svg = drawing.lying(tool.kind, one.how, tool.length_mm, one.high_mm, rack.longest_mm)
    return {
        "code": tool.code,
        "address": tool_at(tool.code),
        "how": "else" if strange and one.how == "here" else one.how,
        "strange": strange,
        "words": words,
        "picture": one.picture,
        "svg": mark_safe(svg),  # noqa: S308  (our own drawing)
    }
