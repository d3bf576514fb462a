"""The second half of `make run`, for real: from an empty folder to a server that answers, twice."""

import fcntl
import os
import signal
import socket
import subprocess
import sys
import time
import urllib.request

import pytest

from tests.guards.tree import ROOT

# What is installed here already is not installed again.
START = """
import sys
from shared.run import serve
serve.venv.ready = lambda requirements: sys.executable
serve.machine.have_pango = lambda: None
serve.main()
"""


def comes(what) -> bool:
    """Whether it is so within a minute."""
    for _try in range(600):
        if what():
            return True
        time.sleep(0.1)
    return False


@pytest.fixture
def opened(tmp_path):
    """Opens an empty shop, gives what was said until it answered, and what it answered; closes it."""

    def run() -> tuple[str, bytes]:
        with socket.socket() as probe:
            probe.bind(("127.0.0.1", 0))
            port = probe.getsockname()[1]
        env = {"PATH": os.environ["PATH"], "DATA_DIR": str(tmp_path), "PORT": str(port), "DEMO": "no"}
        command = [sys.executable, "-c", START]
        said = []
        with subprocess.Popen(
            command, cwd=ROOT, env=env, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True
        ) as server:
            for line in server.stdout:
                said.append(line)
                if "Only this machine can reach it" in line:
                    with urllib.request.urlopen(f"http://127.0.0.1:{port}/healthz") as reply:
                        answer = reply.read()
                    assert comes((tmp_path / "jobs" / "turn.lock").exists), "no worker began"
                    server.send_signal(signal.SIGTERM)
        assert server.returncode == 0, "".join(said)
        return "".join(said), answer

    return run


def test_an_empty_shop_opens_and_opens_again(opened, tmp_path):
    said, answer = opened()
    assert answer == b"ok"
    assert "/first/lead:" in said
    assert "HOST=0.0.0.0 make run" in said
    assert "only in a network that you trust" in said
    assert not (tmp_path / "backups").exists()
    with (tmp_path / "jobs" / "turn.lock").open("rb") as turn:
        fcntl.flock(turn, fcntl.LOCK_EX | fcntl.LOCK_NB)  # the worker ended with the server

    said, answer = opened()
    assert answer == b"ok"
    assert "Copied the database to" in said
    assert len(list((tmp_path / "backups").iterdir())) == 1
