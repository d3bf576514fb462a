"""Tags as a PDF beside reportlab drawing the same; a long run beside a short one, its memory, and codes read back."""

import re
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path

from bench.beside_tags import drawn
from bench.measure import Row, in_turn, seconds
from bench.shops import ROOT
from bench.synth.make import END
from shared.paper import stocks
from shared.units import METRIC
from tests.shared.paper import phones
from tooling.drawing.tags import draw
from tooling.models import Tool
from tooling.selectors.tags import tool_tags
from tooling.services.tags import codes
from tooling.services.tags.printing import Chosen, make

SITE = "http://192.168.1.20:8000"
SOME, MANY = 200, 2000
MOST_MB = 200
DPI = (150, 300)
# In a process of its own: the highest that it ever needed, in kB, is asked of the kernel.
_HIGHEST = Path("/proc/self/status")
_PEAK = """
import sys
import django
django.setup()
from bench.rows import tags
tags.printed(tags.keys(int(sys.argv[1])))
print(tags.highest())
"""


def measure() -> Iterator[Row]:
    """Their computing time; then memory on Linux, with megabytes in the columns of milliseconds."""
    some, many = keys(SOME), keys(MANY)
    printed(many)  # the codes are kept from here on, as in a shop that prints again
    yield in_turn(Row(f"{len(some)} tags, one a page, / reportlab", 8), lambda: printed(some), lambda: theirs(some), 5)
    one = some[:1]
    yield in_turn(Row("one warm tag for the screen / reportlab", 1), lambda: shown(one), lambda: theirs(one))
    yield long_run(some, many)
    if _HIGHEST.exists():
        figure, floor = ([peak(len(of)) / 1000 for _ in range(3)] for of in (many, some))
        what = f"memory of {len(many):,} tags, in MB, beside {len(some)}; at most {MOST_MB}"
        yield Row(what, None, figure, floor, held=max(figure) * 1000 <= MOST_MB)
    yield read_back(some)


def keys(count: int) -> list[int]:
    return list(Tool.objects.order_by("code").values_list("pk", flat=True)[:count])


def printed(tools: list[int]) -> bytes:
    with tempfile.TemporaryDirectory() as folder:
        path, stock = Path(folder) / "tags.pdf", stocks.stock(stocks.LABEL)
        done = make(Chosen(tools=tools), path, at=END, stock=stock, units=METRIC, site_url=SITE)
        if done.tags != len(tools):
            raise AssertionError(f"{done.tags} tags of {len(tools)}")
        return path.read_bytes()


def shown(tools: list[int]) -> str:
    """As a page shows tags before they are printed."""
    facts = tool_tags(tools, END, METRIC)
    leads_to = codes.of_tools({key: one.code for key, one in facts.items()}, SITE, keep=False)
    return "".join(draw(one, 100, 60, qr=leads_to[key], gates=True).html() for key, one in facts.items())


def theirs(tools: list[int]) -> bytes:
    """What stands on them is read as we read it; the rest is reportlab's."""
    facts = tool_tags(tools, END, METRIC)
    leads_to = codes.of_tools({key: one.code for key, one in facts.items()}, SITE)
    return drawn([(one, leads_to[key]) for key, one in facts.items()])


def long_run(some: list[int], many: list[int]) -> Row:
    """What each tag takes, in turn."""
    row = Row(f"{len(many):,} tags, each, / of {len(some)}", 1.1)
    for _ in range(3):
        row.figure.append(seconds(lambda: printed(many)) / len(many))
        row.floor.append(seconds(lambda: printed(some)) / len(some))
    return row


def read_back(tools: list[int]) -> Row:
    """All codes on pictures of the pages, none wrong; beside it the time of making the pages."""
    wanted = sorted(f"{SITE}/T/{code}/".upper() for code in _codes(tools))
    made = printed(tools)
    row = Row(f"QR codes of {len(tools)} tags read at {' and '.join(map(str, DPI))} dpi, all", None, held=True)
    for dpi in DPI:
        found: list[str] = []
        row.figure.append(seconds(lambda dpi=dpi, found=found: found.extend(_read(made, dpi))))
        row.floor.append(seconds(lambda: printed(tools)))
        row.held = bool(row.held) and sorted(found) == wanted
    return row


def _read(made: bytes, dpi: int) -> list[str]:
    return [text for page in phones.pages(made, dpi) for text in phones.read(page)]


def _codes(tools: list[int]) -> list[str]:
    return list(Tool.objects.filter(pk__in=tools).values_list("code", flat=True))


def highest() -> int:
    """The most memory that this process has had at any time, in kB."""
    return int(re.search(r"VmHWM:\s+(\d+)", _HIGHEST.read_text()).group(1))


def peak(tools: int) -> float:
    """In a process of its own, in MB."""
    command = [sys.executable, "-c", _PEAK, str(tools)]
    done = subprocess.run(command, cwd=ROOT, check=True, stdout=subprocess.PIPE)
    return int(done.stdout) / 1024
