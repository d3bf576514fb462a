"""The marks of a picture of deviations: told apart by their shapes, without colour."""

from tooling.drawing import ink


def stem(x: float, middle: float, y: float, *, broken: bool) -> str:
    """From the line of the cut to a mark; broken where that is farther off than it stands."""
    if not broken:
        return f"M{x:.1f} {middle:.1f}V{y:.1f}"
    half, way = (middle + y) / 2, 1 if y > middle else -1
    zigzag = f"V{half - way * 6:.1f}l5 {way * 4}l-10 {way * 4}l5 {way * 4}"
    return f"M{x:.1f} {middle:.1f}{zigzag}V{y:.1f}"


def dot(x: float, y: float) -> str:
    """Measured, within the tolerance."""
    return ink.disc(x, y, 4.5, solid=True)


def ring(x: float, y: float) -> str:
    """In, against a gauge."""
    return ink.disc(x, y, 5.5)


def cross(x: float, y: float) -> str:
    """Measured, beyond the tolerance."""
    return ink.line(f"M{x - 6:.1f} {y - 6:.1f}l12 12M{x + 6:.1f} {y - 6:.1f}l-12 12", wide=3.4)


def square(x: float, y: float) -> str:
    """Out, against a gauge."""
    box = ink.shape(ink.block(x - 7, y - 7, x + 7, y + 7))
    return box + ink.line(f"M{x - 4:.1f} {y - 4:.1f}l8 8M{x + 4:.1f} {y - 4:.1f}l-8 8", wide=2.4)


def diamond(x: float, y: float) -> str:
    """What it was at an earlier check."""
    return ink.shape([(x - 5, y), (x, y - 5), (x + 5, y), (x, y + 5)], wide=1.2)
