"""The small marks: how a part came off, what stands on the history's tape, not usable, and the program's own sign."""

from html import escape

from django.utils.translation import gettext as _

from tooling.drawing.tally import HARD, wobble

_MOLD = (
    '<path class="m-mold" d="M4 30H18C20 58 34 68 52 68S84 58 86 30H100"/><path class="m-hatch" '
    'd="M18 44l-8 8M22 56l-8 9M31 65l-7 9M43 70l-5 9M56 70l-4 9M68 69l-3 9M86 44l8 8M82 56l8 9M75 64l6 9"/>'
)
_WEDGES = '<path class="m-wedge" d="M0 28L19 21V29ZM104 28L85 21V29Z"/>'


def _molding(lifted: int) -> str:
    rim, side, keel = 24 - lifted, 49 - lifted, 59 - lifted
    return f'<path class="m-part" d="M14 {rim}H25C27 {side} 38 {keel} 52 {keel}S77 {side} 79 {rim}H90"/>'


_CAME_OFF = {
    "free": _molding(18) + '<path class="m-fine" d="M52 24V10M46 16l6-7 6 7"/>',
    "light": _molding(8) + '<path class="m-wedge" d="M0 25L19 16V24Z"/>',
    "tight": _molding(3) + _WEDGES + '<path class="m-fine" d="M40 10l-4-7M52 8V0M64 10l4-7"/>',
    "stuck": _molding(0)
    + '<path class="m-bold" d="M44 57l4 5 4-6 4 7 4-7 4 5"/>'
    + _WEDGES
    + '<path class="m-bold" d="M34 46l5 3-3 4 6 2"/>',
    "lost": '<path class="m-part" d="M14 24H25C26 37 30 46 35 51L41 44"/><path class="m-part" '
    'd="M90 14H79C78 28 75 36 69 42L62 36L64 47C60 49 58 49.5 54 49.5"/><path class="m-part" d="M41 57l6-6 4 9"/>',
}

_ZIGZAG = "M7 11.5L10 28L13.5 12L17.5 29L21 11L24.5 28.5L29 12L32.5 28L36.5 12L39 27"


def came_off_mark(word: str) -> str:
    """One of the five: a section through mold and molding. Its word stands beside it, so it says nothing itself."""
    drawn = _MOLD + _CAME_OFF[word]
    return f'<svg class="mark" viewBox="-4 -4 112 88" aria-hidden="true" focusable="false">{drawn}</svg>'


def sign() -> str:
    """The program's sign: a gate of five."""
    upright = "M8 5.5Q8.7 17 7.4 31M16.6 5Q15.7 18 17 30.5M25.4 6Q26 18 25 31.5M34.2 5.2Q33.6 17 34.8 30.5"
    drawn = f'<path d="{upright}M2.5 27.5Q20 19.5 41.5 9"/>'
    return f'<svg class="gate" viewBox="0 0 44 36" aria-hidden="true" focusable="false">{drawn}</svg>'


def history_tick(kind: str, code: str, number: int, *, came_off: str = "", void: bool = False) -> str:
    """What an entry leaves on the tape that runs down the history: a stroke, a smear of the rag, or a dot.

    kind: the entry's kind. code, number: whose stroke it is, so that it keeps its wobble.
    came_off: a hard pull is crossed. void: dotted, as it never happened.
    """
    a, _b, c, _d, e = wobble(code, number, 5)
    stroke = f"M9 {20 + a * 2:.1f}Q{22 + e:.1f} {20 + e * 2:.1f} 37 {20 + c * 2.4:.1f}"
    if void:
        drawn = f'<path class="t-void" d="{stroke}"/>'
    elif kind == "pull":
        cross = '<path class="t-hard" d="M27 14l10 11M37 14l-10 11"/>' if came_off in HARD else ""
        drawn = f'<path class="t-stroke" d="{stroke}"/>{cross}'
    elif kind == "coat":
        drawn = f'<path class="t-wax" d="{_ZIGZAG}"/>'
    else:
        drawn = '<circle class="t-dot" cx="23" cy="20" r="3.2"/>'
    return f'<svg class="tick" viewBox="0 0 46 40" aria-hidden="true" focusable="false">{drawn}</svg>'


def state_mark(mark: str) -> str:
    """Why it cannot be used: `held` (crossed tape), `coat` (dotted zigzag) or `part` (weave). Usable has no mark."""
    drawn, words = {
        "held": ('<path class="s-tape" d="M6 11L11 6L34 29L29 34ZM29 6L34 11L11 34L6 29Z"/>', _("Held")),
        "coat": ('<path class="s-want" d="M11 3.5L29 11.5L11 20L29 28.5L11 36.5"/>', _("A coat is wanted")),
        "part": (
            '<path class="s-weave" d="M8 14L22 28M14 8L32 26M22 6L34 18M32 14L18 28M26 8L8 26M18 6L6 18"/>'
            '<path class="s-cup" d="M4 8C6 40 34 40 36 8"/>',
            _("A part is in it"),
        ),
    }[mark]
    return f'<svg class="sign" viewBox="0 0 40 40" role="img" aria-label="{escape(words, quote=True)}">{drawn}</svg>'
