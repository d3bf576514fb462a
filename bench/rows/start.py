"""From nothing to the first page: a new process that answers one request, beside one that only imports Django."""

import subprocess
import sys
import time
from collections.abc import Iterator

from django.core.management import call_command

from bench.measure import Row, in_turn
from bench.shops import ROOT

# What only some pages need, and no other may wait for.
LATER = ("weasyprint", "fontTools", "segno", "pypdf", "numpy", "scipy", "openpyxl")
FIRST_PAGE = f"""
import sys
from django.test import Client
from shared.wsgi import application
reply = Client().get("/sign-in/", SERVER_NAME="127.0.0.1")
assert reply.status_code == 200, reply.status_code
print([name for name in {LATER!r} if name in sys.modules])
"""


def measure() -> Iterator[Row]:
    """The ratio is only printed; what decides is that nothing is imported before it is needed."""
    call_command("collectstatic", interactive=False, verbosity=0)
    heavy = python(FIRST_PAGE)
    row = Row("cold start to first page, nothing heavy imported", None, held=heavy == "[]")
    yield in_turn(row, lambda: python(FIRST_PAGE), lambda: python("import django"), rounds=7, clock=time.perf_counter)


def python(program: str) -> str:
    command = [sys.executable, "-c", program]
    return subprocess.run(command, cwd=ROOT, check=True, stdout=subprocess.PIPE, text=True).stdout.strip()
