"""The floor of the tags: the same tags drawn by hand with reportlab, their places worked out as they are drawn."""

import io
from functools import cache

from fontTools.ttLib import TTFont
from reportlab.lib.units import mm
from reportlab.lib.utils import simpleSplit
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont as Embedded
from reportlab.pdfgen.canvas import Canvas

from shared.paper import letters
from shared.paper.qr import Matrix
from tooling.drawing.tags.facts import ToolTag

WIDE, HIGH, EDGE = 100, 60, 4
GATES, ROOM = 6, 76


def drawn(tags: list[tuple[ToolTag, Matrix]]) -> bytes:
    """One label a page: section, code, name, lines, QR, gates, caution."""
    _fonts()
    file = io.BytesIO()
    canvas = Canvas(file, pagesize=(WIDE * mm, HIGH * mm))
    for tag, matrix in tags:
        _section(canvas)
        _words(canvas, tag)
        _qr(canvas, matrix)
        _gates(canvas)
        canvas.showPage()
    canvas.save()
    return file.getvalue()


@cache
def _fonts() -> None:
    """reportlab takes no woff2."""
    for weight, name in letters.FILES.items():
        font, plain = TTFont(letters.FONTS / name), io.BytesIO()
        font.flavor = None
        font.save(plain)
        plain.seek(0)
        pdfmetrics.registerFont(Embedded(str(weight), plain))


def _words(canvas: Canvas, tag: ToolTag) -> None:
    size = min(15.6, 74 / pdfmetrics.stringWidth(tag.code, "700", 1))
    _line(canvas, tag.code, 22, 14, size, "700")
    y = 19.0
    for line in simpleSplit(tag.name, "600", 4.2 * mm, 66 * mm):
        _line(canvas, line, EDGE, y, 4.2, "600")
        y += 5
    for pieces in tag.lines:
        text = " · ".join(f"{piece.before} {piece.words}".strip() for piece in pieces)
        for line in simpleSplit(text, "400", 3.4 * mm, 66 * mm):
            _line(canvas, line, EDGE, y, 3.4, "400")
            y += 4.4
    _line(canvas, tag.pulls, EDGE, 49, 2.6, "400")
    canvas.line(EDGE * mm, 8 * mm, (WIDE - EDGE) * mm, 8 * mm)
    _line(canvas, tag.caution, EDGE, 55, 2.75, "400")


def _line(canvas: Canvas, text: str, x: float, y: float, size: float, font: str) -> None:
    canvas.setFont(font, size * mm)
    canvas.drawString(x * mm, (HIGH - y) * mm, text)


def _qr(canvas: Canvas, matrix: Matrix) -> None:
    """Rectangles, one for each run of dark modules."""
    module, path = 20 / matrix.modules, canvas.beginPath()
    left, top = 74.0, HIGH - 18.0
    for row, dark in enumerate(matrix.rows()):
        begin = None
        for column, one in enumerate([*dark, False]):
            if one and begin is None:
                begin = column
            elif not one and begin is not None:
                x, y = left + begin * module, top - (row + 1) * module
                path.rect(x * mm, y * mm, (column - begin) * module * mm, module * mm)
                begin = None
    canvas.drawPath(path, stroke=0, fill=1)


def _gates(canvas: Canvas) -> None:
    path, pitch = canvas.beginPath(), ROOM / GATES
    step = pitch * 0.17
    for gate in range(GATES):
        x = 20 + gate * pitch
        for stroke in range(4):
            path.moveTo((x + stroke * step) * mm, 16 * mm)
            path.lineTo((x + stroke * step) * mm, 10 * mm)
        path.moveTo(x * mm, 10 * mm)
        path.lineTo((x + 3.6 * step) * mm, 16 * mm)
    canvas.setDash(0.1, 1.8)
    canvas.drawPath(path)
    canvas.setDash()


def _section(canvas: Canvas) -> None:
    """An arch with its hatching, as many lines as the sections of the kinds have."""
    path = canvas.beginPath()
    for line in range(14):
        path.moveTo((EDGE + line) * mm, 46 * mm)
        path.lineTo((EDGE + line + 2) * mm, 50 * mm)
    path.moveTo(EDGE * mm, 46 * mm)
    for point in range(40):
        path.lineTo((EDGE + point * 0.38) * mm, (46 + point % 20 * 0.5) * mm)
    canvas.drawPath(path)
