"""The table that `make bench` prints."""

from collections.abc import Iterable
from statistics import median

from bench.measure import Row

HEADS = ("what", "figure, ms", "floor, ms", "ratio", "target", "")


def lines(rows: Iterable[Row]) -> Iterable[str]:
    """One line a row, columns aligned."""
    cells = [HEADS, *map(_cells, rows)]
    widths = [max(len(line[place]) for line in cells) for place in range(len(HEADS))]
    for line in cells:
        texts = [
            line[0].ljust(widths[0]),
            *(cell.rjust(width) for cell, width in zip(line[1:], widths[1:], strict=True)),
        ]
        yield "  ".join(texts).rstrip()


def held(row: Row) -> bool:
    """Whether the bar was met."""
    return row.held if row.target is None else row.ratio <= row.target


def _cells(row: Row) -> tuple[str, ...]:
    target = f"<= {row.target:g}" if row.target is not None else "-"
    return row.what, _times(row.figure), _times(row.floor), f"{row.ratio:.2f}", target, "held" if held(row) else "short"


def _times(seconds: list[float]) -> str:
    """Median, and in brackets minimum and maximum."""
    return f"{_ms(median(seconds))} ({_ms(min(seconds))}-{_ms(max(seconds))})"


def _ms(seconds: float) -> str:
    return f"{seconds * 1000:,.0f}" if seconds >= 1 else f"{seconds * 1000:.3g}"
