"""The codes that phones read from tags: QR of ISO/IEC 18004 at level Q, a quarter of which may be lost.

An address in capitals is written in the alphanumeric mode, which takes little more than half the room of letters in
both cases: 25 or 29 modules for an address in the house. A host that has other signs (an underscore, the brackets of
IPv6) is written byte by byte, in more and smaller modules.
"""

import base64
from dataclasses import dataclass
from io import BytesIO
from typing import ClassVar
from urllib.parse import urlsplit

from django.utils.translation import gettext as _
from PIL import Image

from shared.errors import Refused
from shared.paper.boxes import Box
from shared.run.address import bracketed

# Sides of the symbol without its quiet zone, in mm: what a phone reads in bad light, and what it still reads.
# Tried on rendered pages: 12 mm is read at 150 dpi, 10 mm is not.
WANTED, LEAST = 20.0, 12.0
TOOL, PLACE = "T", "P"
# Pixels a module: some programs smooth a picture over the edges of its pixels, which then are an eighth of a module.
_PIXELS = 8


@dataclass(frozen=True, slots=True)
class Matrix:
    """A code as it is drawn: so many modules a side, and row by row in hexadecimal digits which are dark."""

    address: str
    modules: int
    dark: str

    # The quiet zone: modules on each side that stay light (ISO/IEC 18004).
    border: ClassVar[int] = 4

    @property
    def across(self) -> int:
        """Modules of a side with the quiet zone on both ends."""
        return self.modules + 2 * self.border

    def rows(self) -> list[list[bool]]:
        """Dark or not, from the upper left corner, without the quiet zone."""
        whole = bin(int(self.dark, 16))[2:].zfill(self.modules**2)
        return [[sign == "1" for sign in whole[row : row + self.modules]] for row in range(0, len(whole), self.modules)]


def address(site_url: str, kind: str, code: str) -> str:
    """Where the code of a tool (kind T) or a place (kind P) leads, in capitals, which hosts and codes take alike."""
    return f"{_site(site_url)}/{kind}/{code}/".upper()


def page(site_url: str, path: str) -> str:
    """Where the code of any other page leads: its path as it is, which costs squares."""
    return _site(site_url) + path


def _site(site_url: str) -> str:
    site = urlsplit(site_url)
    host, port = site.hostname or "", f":{site.port}" if site.port else ""
    if not host.isascii():  # as it is asked for on the wire
        host = host.encode("idna").decode()
    return f"{site.scheme}://{bracketed(host)}{port}"


def made(address: str) -> Matrix:
    """The code for an address."""
    import segno

    symbol = segno.make(address, error="q", boost_error=False, micro=False)
    signs = "".join("1" if module else "0" for row in symbol.matrix for module in row)
    return Matrix(address, len(symbol.matrix), f"{int(signs, 2):x}")


def box(matrix: Matrix, x: float, y: float, symbol: float = WANTED) -> Box:
    """The code with its quiet zone, its corner there; `symbol` is the side of what is dark and light, in mm.

    Refuses one that a phone would not read.
    """
    if symbol < LEAST:
        message = _(
            "The QR code would be %(side).1f mm wide. A phone reads none below %(least).0f mm: take a larger tag."
        )
        raise Refused(message % {"side": symbol, "least": LEAST})
    side = symbol * matrix.across / matrix.modules
    return Box(x, y, side, side, drawing(matrix), "qr")


def drawing(matrix: Matrix) -> str:
    """The code as a picture that fills its box."""
    picture = Image.new("1", (matrix.modules, matrix.modules))
    picture.putdata([int(not dark) for row in matrix.rows() for dark in row])
    whole = Image.new("1", (matrix.across, matrix.across), 1)
    whole.paste(picture, (matrix.border, matrix.border))
    side, file = matrix.across * _PIXELS, BytesIO()
    # In shades of gray: what is of one bit would be written as three colours.
    whole.convert("L").resize((side, side), Image.Resampling.NEAREST).save(file, "PNG")
    data = base64.b64encode(file.getvalue()).decode()
    return f'<img alt="{matrix.address}" src="data:image/png;base64,{data}">'
