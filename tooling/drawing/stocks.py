"""What tags are printed on, drawn in proportion: one tag, or a sheet with its places."""

from collections.abc import Sequence

# Pixels a millimetre, for all of them, so that one is seen to be larger than another.
_SCALE = 0.22
_LINE = 1


def picture(page: tuple[float, float], tag: tuple[float, float], places: Sequence[tuple[float, float]]) -> str:
    """An SVG of the page; on a sheet the places of the tags on it. All in mm."""
    wide, high = (side * _SCALE for side in page)
    one = places[0] != (0, 0) or len(places) > 1
    cells = "".join(_rect(x * _SCALE, y * _SCALE, tag[0] * _SCALE, tag[1] * _SCALE, "cell") for x, y in places)
    return (
        f'<svg class="stock" width="{wide + 2 * _LINE:.1f}" height="{high + 2 * _LINE:.1f}" '
        f'viewBox="{-_LINE} {-_LINE} {wide + 2 * _LINE:.1f} {high + 2 * _LINE:.1f}" aria-hidden="true" '
        f'focusable="false">{_rect(0, 0, wide, high, "page")}{cells if one else ""}</svg>'
    )


def own_picture() -> str:
    """A tag of any size: dotted, since nobody has said it yet."""
    return (
        '<svg class="stock" width="24" height="16" viewBox="-1 -1 24 16" aria-hidden="true" focusable="false">'
        f"{_rect(0, 0, 22, 14, 'own')}</svg>"
    )


def _rect(x: float, y: float, wide: float, high: float, looks: str) -> str:
    return f'<rect class="s-{looks}" x="{x:.1f}" y="{y:.1f}" width="{wide:.1f}" height="{high:.1f}" rx="1.5"/>'
