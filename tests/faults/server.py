"""A gunicorn with two processes on the test's database, with the program's own settings."""

import http.client
import socket
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from urllib.parse import urlencode

from tests.faults.crew import environment
from tests.guards.tree import ROOT

A_WHILE = 60  # seconds
CSRF = "c" * 32  # a browser gets one with the page; whoever has the cookie may say it


@contextmanager
def serving(processes: int = 2) -> Iterator[int]:
    """The port on which it answers."""
    # Its pages name the collected files, as those of a shop do.
    collect = [sys.executable, "manage.py", "collectstatic", "--noinput", "--verbosity", "0"]
    subprocess.run(collect, cwd=ROOT, env=environment(), check=True)
    port = _free_port()
    command = [sys.executable, "-m", "gunicorn", "--workers", str(processes), "--bind", f"127.0.0.1:{port}"]
    server = subprocess.Popen(
        [*command, "--log-level", "error", "shared.wsgi:application"], cwd=ROOT, env=environment()
    )
    try:
        _wait(server, port)
        yield port
    finally:
        server.terminate()
        server.wait()


def post(port: int, path: str, session: str, form: dict[str, str]) -> tuple[int, str]:
    """The status of the answer, and where it sends the browser."""
    return _ask(port, "POST", path, session, urlencode({**form, "csrfmiddlewaretoken": CSRF}))


def get(port: int, path: str, session: str) -> tuple[int, str]:
    """The status of the answer, and where it sends the browser."""
    return _ask(port, "GET", path, session, None)


def _ask(port: int, method: str, path: str, session: str, body: str | None) -> tuple[int, str]:
    headers = {
        "Content-Type": "application/x-www-form-urlencoded",
        "Cookie": f"sessionid={session}; csrftoken={CSRF}",
    }
    connection = http.client.HTTPConnection("127.0.0.1", port, timeout=A_WHILE)
    try:
        connection.request(method, path, body, headers)
        answer = connection.getresponse()
        answer.read()
        return answer.status, answer.getheader("Location", "")
    finally:
        connection.close()


def _free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return int(probe.getsockname()[1])


def _wait(server: "subprocess.Popen[bytes]", port: int) -> None:
    until = time.monotonic() + A_WHILE
    while time.monotonic() < until and server.poll() is None:
        try:
            connection = http.client.HTTPConnection("127.0.0.1", port, timeout=5)
            connection.request("GET", "/healthz")
            if connection.getresponse().status == 200:
                return
        except OSError:
            time.sleep(0.1)
        finally:
            connection.close()
    raise AssertionError("the server does not answer")
