"""What only some pages need is not imported before one of them is asked for: a server starts quickly."""

import os
import subprocess
import sys

from bench.rows.start import LATER
from tests.guards.tree import ROOT

STARTED = f"""
import sys
from django.urls import get_resolver
from shared.wsgi import application
for pattern in get_resolver().url_patterns:
    str(pattern.pattern)
print([name for name in {LATER!r} if name in sys.modules])
"""


def test_nothing_heavy_is_imported_by_a_server_that_starts(tmp_path):
    env = {**os.environ, "DATA_DIR": str(tmp_path), "DJANGO_SETTINGS_MODULE": "shared.settings"}
    command = [sys.executable, "-c", STARTED]
    started = subprocess.run(command, cwd=ROOT, env=env, capture_output=True, text=True, check=True)
    assert started.stdout.strip() == "[]"
