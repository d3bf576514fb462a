"""Pieces of the pages of what is in the making."""

from collections.abc import Mapping

from django import template
from django.utils.html import format_html
from django.utils.safestring import SafeString
from django.utils.translation import ngettext

register = template.Library()


@register.simple_tag
def tools_at(there: Mapping[str, int], name: str) -> SafeString | str:
    """How many tools stand at a step, where any does."""
    count = there.get(name.upper(), 0)
    if not count:
        return ""
    said = ngettext("%(n)d tool is at it", "%(n)d tools are at it", count) % {"n": count}
    return format_html('<span class="soft small">{}</span>', said)
