"""`make run`: everything from nothing to a working shop. A second run changes as little as it can."""

import contextlib
import os
import signal
import socket
import subprocess
import sys
import threading
import time
import urllib.error
import urllib.request
from collections.abc import Iterator

from shared.libraries import HOMEBREW
from shared.run import machine, venv
from shared.run.address import Address, bracketed, is_own, lan_address, must_be_free, wanted
from shared.run.talk import say, stop

ROOT = venv.ROOT
# Seconds that a request may take in all. Thirty pictures from a phone arrive slowly, and a process that is ended in the
# middle of them has answered nobody.
LONGEST_REQUEST = 300
WORKER_PAUSE = 5  # seconds until a worker that failed is started again


def main() -> None:
    """Prepare, then serve until told to end."""
    address = wanted()
    must_be_free(address)
    python = venv.ready("requirements.txt")
    machine.have_pango()
    os.environ.update(_settings(address))
    prepare(python, address)
    sys.exit(serve(python, address))


def prepare(python: str, address: Address) -> None:
    """Bring database and static files up to date; fill an empty shop."""
    _manage(python, "check", "--database", "default", quiet=True)
    # The checks were run above; each of these would run and print them once more.
    _manage(python, "backup", "--before-migrate", "--skip-checks")
    _manage(python, "migrate", "--skip-checks", "--verbosity", "0")
    _manage(python, "collectstatic", "--skip-checks", "--noinput", "--verbosity", "0")
    welcome = ["welcome", "--skip-checks"]
    if os.environ.get("DEMO", "").strip().casefold() in ("no", "0", "false", "off"):
        welcome.append("--no-demo")
    if address.open_to_house:
        welcome.append("--open-to-house")
    _manage(python, *welcome)


def serve(python: str, address: Address) -> int:
    """Run the server with a worker beside it; print the address once it answers; pass on the wish to end."""
    workers = os.environ.get("WEB_CONCURRENCY", "").strip() or "2"
    gunicorn = [python, "-m", "gunicorn", "--bind", address.bind, "--workers", workers]
    gunicorn += ["--timeout", str(LONGEST_REQUEST), "--log-level", "error"]
    server = subprocess.Popen([*gunicorn, "shared.wsgi:application"], cwd=ROOT)
    signal.signal(signal.SIGTERM, lambda *_: server.terminate())
    with _worker_beside(python):
        try:
            if _answers(server, address):
                _say_where(address)
            return server.wait()
        except KeyboardInterrupt:
            # The terminal told the server as well; wait for the requests it still has.
            say("")
            server.wait()
            return 0


@contextlib.contextmanager
def _worker_beside(python: str) -> Iterator[None]:
    """Inside, `manage.py work` runs, and is started again should it fail; at the end it finishes what cannot wait."""
    ending = threading.Event()
    running: list[subprocess.Popen[bytes]] = []

    def keep() -> None:
        while not ending.is_set():
            worker = subprocess.Popen([python, "manage.py", "work"], cwd=ROOT, stdin=subprocess.DEVNULL)
            running[:] = [worker]
            if ending.is_set():  # told to end while it was being started
                worker.terminate()
            worker.wait()
            ending.wait(WORKER_PAUSE)

    keeper = threading.Thread(target=keep)
    keeper.start()
    try:
        yield
    finally:
        ending.set()
        for worker in running:
            worker.terminate()
        keeper.join()


def _settings(address: Address) -> dict[str, str]:
    """Defaults that follow from where the server listens; what the person set stays."""
    names = ["127.0.0.1", "localhost", "[::1]"]
    if address.open_to_house:
        machine_name = socket.gethostname()
        names += [bracketed(address.host), machine_name, f"{machine_name}.local", *filter(None, [lan_address()])]
    # Only what was not set: the person's own SITE_URL brings its own host along.
    fresh = {"SITE_URL": address.url}
    if "SITE_URL" not in os.environ:
        fresh["ALLOWED_HOSTS"] = ",".join(names)
    if sys.platform == "darwin":
        fresh["DYLD_FALLBACK_LIBRARY_PATH"] = ":".join(str(folder) for folder in HOMEBREW)
    return {name: value for name, value in fresh.items() if not os.environ.get(name)}


def _manage(python: str, *words: str, quiet: bool = False) -> None:
    """One command of the program; it has said on stderr what was wrong when it fails."""
    out = subprocess.DEVNULL if quiet else None
    done = subprocess.run([python, "manage.py", *words], cwd=ROOT, stdin=subprocess.DEVNULL, stdout=out)
    if done.returncode:
        stop(f"Stopped at `manage.py {words[0]}`; the lines above say why.")


def _answers(server: "subprocess.Popen[bytes]", address: Address) -> bool:
    """Wait until the server answers, or ends."""
    host = address.host.replace("0.0.0.0", "127.0.0.1") if address.host != "::" else "::1"  # noqa: S104
    url = f"http://{bracketed(host)}:{address.port}/healthz"
    while server.poll() is None:
        try:
            with urllib.request.urlopen(url, timeout=5):
                return True
        except urllib.error.HTTPError:
            # It refuses this name or asks for https: whoever set that up knows the address.
            return True
        except OSError:
            time.sleep(0.1)
    return False


def _say_where(address: Address) -> None:
    """The address, and how to open or close it to the house."""
    say(f"\nThe shop is open at {os.environ['SITE_URL']}/   (Ctrl-C ends it)")
    if address.open_to_house:
        say("Every machine in the house can reach it. To keep it to this machine: make run")
    elif not is_own(os.environ["SITE_URL"]):
        say(f"Only this machine can reach it by itself, at {address.bind}: a web server here passes SITE_URL on to it.")
    else:
        house = lan_address()
        where = f", then at http://{house}:{address.port}/" if house else ""
        say(f"Only this machine can reach it. To open it to the house: HOST=0.0.0.0 make run{where}")
        say("Do so only in a network that you trust: passwords and PINs cross it readable. Else see Beyond the house.")


if __name__ == "__main__":
    main()
