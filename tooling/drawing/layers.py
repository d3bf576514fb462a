"""The coats on a surface as a section: hatched tool below, a line a coat, dotted where it is still to come."""

from html import escape

from django.utils.translation import gettext as _

# As many as can be told apart; a preparation has seldom more.
MOST = 9
_STEP = 24
_GROUND = 138


def layers_svg(on: int, wanted: int) -> str:
    """The section of a surface with `on` of `wanted` coats; the last that is on is drawn wet."""
    shown = min(max(on, wanted, 1), MOST)
    hatch = "".join(f"M{x} {_GROUND}l-12 13" for x in range(44, 232, 13))
    drawn = f'<path class="d-line" d="M30 {_GROUND}H226"/><path class="d-thin" d="{hatch}"/>'
    drawn += "".join(_coat(number, on) for number in range(1, shown + 1))
    top = _GROUND - _STEP * shown
    drawn += f'<path class="d-dash" d="M30 {top - 10}H226"/>'
    drawn += _word(128, top - 17, _("lay-up")) + _word(128, 169, _("surface"))
    label = escape(_("Section: %(on)d of %(wanted)d coats on") % {"on": on, "wanted": wanted}, quote=True)
    return (
        f'<svg class="layers draw" viewBox="0 {top - 34} 232 {210 - top}" role="img" aria-label="{label}">{drawn}</svg>'
    )


def _coat(number: int, on: int) -> str:
    y = _GROUND - _STEP * number + 12
    kind = "c-next" if number > on else "c-now" if number == on else "c-done"
    drawn = f'<path class="{kind}" d="M34 {y}C70 {y - 4} 104 {y + 4} 138 {y - 1}S200 {y - 2} 222 {y}"/>'
    if kind == "c-now":
        drawn += f'<path class="c-wet" d="M36 {y}C70 {y - 4} 104 {y + 4} 138 {y - 1}S200 {y - 2} 220 {y}"/>'
    return drawn + f'<text class="d-word" x="8" y="{y + 5}">{number}</text>'


def _word(x: int, y: int, text: str) -> str:
    return f'<text class="d-word" x="{x}" y="{y}" text-anchor="middle">{escape(text)}</text>'
