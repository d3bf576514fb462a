"""How a picture of a tool stands on a page: in the size that fits, else the section of its kind."""

from datetime import datetime

from django import template
from django.urls import reverse
from django.utils.safestring import SafeString, mark_safe
from django.utils.translation import gettext as _

from shared.images import SIZES
from tooling.drawing import sections
from tooling.forms.deeds.pictures import BOXES, fitted
from tooling.models import Person, Picture, Tool
from tooling.models.pictures import WHOLE
from tooling.services.deeds.undo import RUB_OUT_WITHIN
from tooling.services.pictures import may_take_back
from tooling.words.marks import field_words
from tooling.words.when import minutes_left

register = template.Library()

# What the browser may expect of the width of a picture before it has read the style sheet.
_WIDTHS = {
    "card": "(min-width: 48rem) 17rem, 45vw",
    "gallery": "(min-width: 40rem) 17rem, 100vw",
    "page": "(min-width: 64rem) 26rem, 100vw",
    "whole": "(min-width: 60rem) 46rem, 100vw",
    "thumb": "6rem",
}
# Those that are cut to the shape of their place; the mark is cut with them.
_CUT = ("card", "page")
_RING = 0.07  # of the shorter side
_RING_OF_THUMB = 0.16


@register.inclusion_tag("_photo.html")
def photo(picture: Picture, tool: Tool, how: str = "card", mark: bool = True) -> dict[str, object]:
    """A picture with its mark. `how`: card (a list of tools), gallery (all of one tool), page (of its tool), whole (by
    itself), thumb (beside a sentence). `mark`: no where other marks are drawn on it.
    """
    addresses = [reverse("picture_file", args=[digest]) for digest in picture.digests]
    widths = [max(1, round(picture.width * min(1, size / max(picture.width, picture.height)))) for size in SIZES]
    # A picture smaller than the largest size has one file for several of them.
    by_width = dict(zip(widths, addresses, strict=True))
    return {
        "address": addresses[{"whole": 0, "thumb": 2}.get(how, 1)],
        "set": ", ".join(f"{address} {width}w" for width, address in by_width.items()),
        "sizes": _WIDTHS[how],
        "width": picture.width,
        "height": picture.height,
        "says": _says(picture, tool, mark),
        "lazy": how in ("card", "gallery", "thumb"),
        "how": how,
        "ring": _ring(picture, how) if mark else None,
    }


def _says(picture: Picture, tool: Tool, mark: bool = True) -> str:
    says = picture.caption or _("Picture of %(code)s, %(name)s") % {"code": tool.code, "name": tool.name}
    if picture.mark is None or not mark:
        return says
    return _("%(says)s; marked: %(where)s") % {"says": says, "where": field_words(picture.mark)}


def _ring(picture: Picture, how: str) -> dict[str, object] | None:
    if picture.mark is None:
        return None
    across, down = picture.mark
    size = _RING_OF_THUMB if how == "thumb" else _RING
    return {
        "x": round(across * picture.width / WHOLE),
        "y": round(down * picture.height / WHOLE),
        "r": max(1, round(min(picture.width, picture.height) * size)),
        "fit": "xMidYMid slice" if how in _CUT else "xMidYMid meet",
    }


@register.inclusion_tag("tooling/_given.html")
def given(pictures: list[Picture]) -> dict[str, object]:
    """The pictures of an entry, small, each leading to where it is seen large."""
    return {"pictures": pictures}


@register.inclusion_tag("tooling/_to_tap.html")
def to_tap(picture: Picture, tool: Tool) -> dict[str, object]:
    """A picture that is tapped on where it is: in a box of a phone's width, and in one of a desk's."""
    boxes = [(name, *fitted(picture, name)) for name in BOXES]
    return {
        "address": reverse("picture_file", args=[picture.middle]),
        "boxes": boxes,
        "says": _says(picture, tool),
        "picture": picture,
        "ring": _ring(picture, "whole"),
    }


@register.simple_tag
def rub_out_minutes(picture: Picture, person: Person, now: datetime) -> int:
    """For how many more minutes a person can rub out a picture; 0 where not."""
    if not may_take_back(picture, person, now):
        return 0
    return minutes_left(picture.added_at + RUB_OUT_WITHIN, now)


@register.simple_tag
def taped_over() -> SafeString:
    """The crossed strips of tape over the picture of a tool that is held."""
    return mark_safe(sections.taped_over())  # noqa: S308  (our own drawing)
