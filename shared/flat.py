"""An opened picture, made plain: opaque sRGB colours and nothing else, roughly as large as wanted."""

from PIL import Image

from shared.colours import Change, to_screen

_PIECE = 1 << 20  # pixels that are turned into plain colours at once
_DEEP = ("I", "I;16", "I;16B", "I;16L")


def factor(size: tuple[int, int], longest: int) -> int:
    """How many times larger than wanted it is, in whole numbers."""
    return max(1, max(size) // longest)


def flat(image: Image.Image, longest: int) -> Image.Image:
    """Piece by piece, however wide or tall it is, and reduced where it is far larger than wanted."""
    image.load()
    (width, height), times = image.size, factor(image.size, longest)
    plain = Image.new("RGB", (-(-width // times), -(-height // times)))
    across, down = _piece(image.size, times)
    screen = to_screen(image)
    for top in range(0, height, down):
        for left in range(0, width, across):
            piece = image.crop((left, top, min(left + across, width), min(top + down, height)))
            piece = _opaque(piece, screen)
            plain.paste(piece.reduce(times) if times > 1 else piece, (left // times, top // times))
    return plain


def _piece(size: tuple[int, int], times: int) -> tuple[int, int]:
    """Width and height of a piece, both in whole reduced pixels; where it is very wide or tall, no more than it is."""
    least_down = min(times, size[1])
    across = min(size[0], times * max(1, _PIECE // (times * least_down)))
    return across, times * max(1, _PIECE // (times * across))


def _opaque(piece: Image.Image, screen: tuple[str, Change] | None) -> Image.Image:
    """Colours on white paper, as a screen shows them."""
    if piece.mode in _DEEP:
        piece = piece.convert("I").point(lambda value: value * (1 / 256)).convert("L")
    if piece.mode in ("RGBA", "LA", "PA") or "transparency" in piece.info:
        piece = piece.convert("RGBA")
        paper = Image.new("RGB", piece.size, "white")
        paper.paste(piece, mask=piece.getchannel("A"))
        piece = paper
    if screen is None:
        return piece.convert("RGB")
    mode, change = screen
    # A palette, or the numbers of another mode than the profile is for: only plain ones can be meant.
    piece = piece if piece.mode == mode else piece.convert("RGB")
    return change(piece) if piece.mode == mode else piece
