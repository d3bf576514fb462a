"""Pieces of the pages of what is in the making."""

from collections.abc import Mapping
from uuid import uuid4

from django import template
from django.utils.html import format_html
from django.utils.safestring import SafeString
from django.utils.translation import ngettext

from tooling.words.cautions import Caution
from tooling.words.making_cautions import of_all

register = template.Library()


@register.simple_tag
def tools_at(there: Mapping[str, int], name: str) -> SafeString | str:
    """How many tools stand at a step, where any does."""
    count = there.get(name.upper(), 0)
    if not count:
        return ""
    said = ngettext("%(n)d tool is at it", "%(n)d tools are at it", count) % {"n": count}
    return format_html('<span class="soft small">{}</span>', said)


@register.simple_tag
def making_caution() -> Caution:
    """What all work on a tool in the making needs, where a step is taken without a page of its own."""
    return of_all()


@register.inclusion_tag("tooling/_step_tap.html", takes_context=True)
def step_tap(context: template.Context, code: str, step: str) -> dict[str, object]:
    """A button that takes a tool to its next step by the hands of who is signed in; at a station they are asked for."""
    user = context["user"]
    hands = None if user.is_station else user.pk
    return {"code": code, "step": step, "token": uuid4(), "hands": hands, "csrf_token": context.get("csrf_token")}
