"""How drawings look on paper: black, whole and without a stylesheet."""

from django import template
from django.utils.safestring import SafeString, mark_safe

from tooling.calc.tape import Tape
from tooling.drawing.sections import black_mark
from tooling.drawing.tags import marks
from tooling.drawing.tally import on_paper, tally_svg

register = template.Library()


@register.simple_tag
def paper_tally(tape: Tape | None, code: str) -> SafeString | str:
    """The strip of one surface in black on white; nothing where there is none."""
    if tape is None:
        return ""
    return mark_safe(on_paper(tally_svg(tape.strokes, tape.left, code, tape.coats)))  # noqa: S308  (our own drawing)


@register.simple_tag
def paper_mark(kind: str) -> SafeString:
    """The small section of a kind in black."""
    return mark_safe(black_mark(kind))  # noqa: S308  (our own drawing)


@register.simple_tag
def paper_crossed_tape(wide: float) -> SafeString:
    """The crossed tape of a held tool, as wide as that, in mm."""
    return mark_safe(marks.crossed_tape(wide, wide / marks.TAPE))  # noqa: S308  (our own drawing)
