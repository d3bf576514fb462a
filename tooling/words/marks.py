"""Where on a picture a mark lies, in words: the field of nine that it is in."""

from django.utils.functional import Promise
from django.utils.translation import gettext_lazy as _

# From the left and the top, in thousandths: where a mark lies that is set by naming its field.
_FIRST, _MIDDLE, _LAST = 167, 500, 833
FIELDS: dict[tuple[int, int], str | Promise] = {
    (_FIRST, _FIRST): _("top left"),
    (_MIDDLE, _FIRST): _("top"),
    (_LAST, _FIRST): _("top right"),
    (_FIRST, _MIDDLE): _("left"),
    (_MIDDLE, _MIDDLE): _("in the middle"),
    (_LAST, _MIDDLE): _("right"),
    (_FIRST, _LAST): _("bottom left"),
    (_MIDDLE, _LAST): _("bottom"),
    (_LAST, _LAST): _("bottom right"),
}


def field_of(mark: tuple[int, int]) -> tuple[int, int]:
    """The middle of the field that a mark lies in."""
    across, down = ((_FIRST, _MIDDLE, _LAST)[min(2, one * 3 // 1000)] for one in mark)
    return across, down


def field_words(mark: tuple[int, int]) -> str:
    """Top left, in the middle, and so on."""
    return str(FIELDS[field_of(mark)])


def place_in_text(text: str, other: str = "") -> str:
    """The same for a mark as it is kept among the changes of a tool: "250 800"."""
    try:
        across, down = map(int, text.split())
    except ValueError:
        return other
    return field_words((across, down))
