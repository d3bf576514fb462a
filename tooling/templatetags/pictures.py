"""How a picture of a tool stands on a page: in the size that fits, else the section of its kind."""

from datetime import datetime
from math import ceil

from django import template
from django.urls import reverse
from django.utils.safestring import SafeString, mark_safe
from django.utils.translation import gettext as _

from shared.images import SIZES
from tooling.drawing import sections
from tooling.models import Person, Picture, Tool
from tooling.services.deeds.undo import RUB_OUT_WITHIN
from tooling.services.pictures import may_take_back

register = template.Library()

# What the browser may expect of the width of a picture before it has read the style sheet.
_WIDTHS = {
    "card": "(min-width: 48rem) 17rem, 45vw",
    "gallery": "(min-width: 40rem) 17rem, 100vw",
    "page": "(min-width: 64rem) 26rem, 100vw",
    "whole": "(min-width: 60rem) 46rem, 100vw",
}


@register.inclusion_tag("_photo.html")
def photo(picture: Picture, tool: Tool, how: str = "card") -> dict[str, object]:
    """A picture. `how`: card (a list of tools), gallery (all of one tool), page (of its tool), whole (by itself)."""
    addresses = [reverse("picture_file", args=[digest]) for digest in picture.digests]
    widths = [max(1, round(picture.width * min(1, size / max(picture.width, picture.height)))) for size in SIZES]
    # A picture smaller than the largest size has one file for several of them.
    by_width = dict(zip(widths, addresses, strict=True))
    return {
        "address": addresses[0 if how == "whole" else 1],
        "set": ", ".join(f"{address} {width}w" for width, address in by_width.items()),
        "sizes": _WIDTHS[how],
        "width": picture.width,
        "height": picture.height,
        "says": picture.caption or _("Picture of %(code)s, %(name)s") % {"code": tool.code, "name": tool.name},
        "lazy": how in ("card", "gallery"),
    }


@register.simple_tag
def rub_out_minutes(picture: Picture, person: Person, now: datetime) -> int:
    """For how many more minutes a person can rub out a picture; 0 where not."""
    if not may_take_back(picture, person, now):
        return 0
    return max(1, ceil((picture.added_at + RUB_OUT_WITHIN - now).total_seconds() / 60))


@register.simple_tag
def taped_over() -> SafeString:
    """The crossed strips of tape over the picture of a tool that is held."""
    return mark_safe(sections.taped_over())  # noqa: S308  (our own drawing)
