"""What a phone sees of a page: the page as a picture, smudged and tilted, and the codes that are read in it."""

import random

import pypdfium2
import zxingcpp
from PIL import Image, ImageDraw, ImageFilter

from shared.paper.boxes import Box

MM = 25.4


def pages(made: bytes, dpi: int) -> list[Image.Image]:
    """The pages of a PDF in shades of gray."""
    paper = pypdfium2.PdfDocument(made)
    return [page.render(scale=dpi / 72, grayscale=True).to_pil().convert("L") for page in paper]


def read(picture: Image.Image) -> list[str]:
    """The texts of all QR codes in it, in the order of the alphabet."""
    return sorted(found.text for found in zxingcpp.read_barcodes(picture, formats=zxingcpp.BarcodeFormat.QRCode))


def smudged(picture: Image.Image, codes: list[Box], dpi: int, seed: int = 7) -> Image.Image:
    """A blot of resin on the lower half of each code, dark and light spots, all a little blurred.

    The blot takes a 25th of the symbol; each codeword that it only touches may be lost as well.
    """
    random.seed(seed)
    dirty = picture.copy()
    pen, px = ImageDraw.Draw(dirty), dpi / MM
    for code in codes:
        x = code.x + code.wide * random.uniform(0.4, 0.6)
        y = code.y + code.high * random.uniform(0.5, 0.7)
        wide, high = code.wide * 0.09, code.high * 0.08
        pen.ellipse([(x - wide) * px, (y - high) * px, (x + wide) * px, (y + high) * px], fill=60)
        for spot in range(8):
            x, y = code.x + code.wide * random.random(), code.y + code.high * random.random()
            r = code.wide * 0.008
            pen.ellipse([(x - r) * px, (y - r) * px, (x + r) * px, (y + r) * px], fill=255 * (spot % 2))
    return dirty.filter(ImageFilter.GaussianBlur(dpi / 200))


def tilted(picture: Image.Image) -> Image.Image:
    """Turned by 10 degrees on something gray."""
    return picture.rotate(10, Image.Resampling.BILINEAR, expand=True, fillcolor=150)


def close(picture: Image.Image, code: Box, dpi: int) -> Image.Image:
    """What a phone that is held before one code sees: it and a little around."""
    px, around = dpi / MM, 3
    left, top = max(0, round((code.x - around) * px)), max(0, round((code.y - around) * px))
    right, bottom = round((code.right + around) * px), round((code.bottom + around) * px)
    return picture.crop((left, top, min(right, picture.width), min(bottom, picture.height)))
