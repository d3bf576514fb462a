"""make bench: prints one table. Only ratios decide; the times are those of this machine in this minute.

BENCH_TOOLS=1000 takes a smaller shop (a hundred entries a tool), BENCH_LARGE=1 adds the board at 100,000 tools and
5,000,000 entries, which takes an hour to make and 2 GB to keep.
"""

import json
import os
import re
import sys
from collections.abc import Iterator
from statistics import median

from bench import shops, table
from bench.measure import Row
from bench.synth.size import Size

SUBJECTS = (
    "board", "request", "search", "pull", "refold", "pictures", "tags", "wanted", "sets", "racks", "counts", "family",
    "containment", "readings", "start",
)  # fmt: skip
LARGE = Size(tools=100_000, entries=5_000_000)


def main() -> None:
    """Measure each subject in a process of its own on a copy of the shop; say which bars are short."""
    tools = int(os.environ.get("BENCH_TOOLS", "10000"))
    size = Size(tools=tools, entries=100 * tools)
    rows = [row for subject in SUBJECTS for row in measured(subject, size)]
    if os.environ.get("BENCH_LARGE") == "1":
        rows += at_large(rows)
    print(*table.lines(rows), sep="\n")
    short = sum(not table.held(row) for row in rows)
    print(
        f"\n{len(rows) - short} held, {short} short. Median (minimum-maximum); computing time, but FULL and cold start."
    )


def measured(subject: str, size: Size) -> Iterator[Row]:
    """The rows of one subject."""
    print(f"... {subject}", file=sys.stderr, flush=True)
    work = shops.copy(shops.kept(size), "work")
    for line in shops.run([sys.executable, "-m", "bench.rows", subject], work).splitlines():
        yield Row(**json.loads(line))


def at_large(rows: list[Row]) -> Iterator[Row]:
    """The board ten times as large, beside itself at the smaller size: a row of it, as more groups are full."""
    small = {row.what.split(",")[0]: row for row in rows}
    for row in measured("board", LARGE):
        before = small[row.what.split(",")[0]]
        yield Row(f"{row.what}, each beside itself", 1.2, a_row(row), [median(a_row(before))])


def a_row(of: Row) -> list[float]:
    """What each of the rows that are shown took."""
    shown = re.search(r"(\d+) rows", of.what)
    return [took / int(shown[1] if shown else 1) for took in of.figure]


if __name__ == "__main__":
    main()
