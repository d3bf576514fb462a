"""The shell script that everything starts with."""

import subprocess

import pytest

from tests.guards.tree import ROOT


@pytest.fixture
def only(tmp_path):
    """Runs the script where these programs, and no others, are found."""

    def run(**programs):
        for name, text in programs.items():
            path = tmp_path / name.replace("_", ".")
            path.write_text(f"#!/bin/sh\n{text}\n")
            path.chmod(0o755)
        script = ["/bin/sh", str(ROOT / "shared" / "run" / "find_python.sh")]
        return subprocess.run(script, env={"PATH": str(tmp_path)}, capture_output=True, text=True)

    return run


def test_a_new_enough_one_is_taken(only, tmp_path):
    done = only(python3="exit 1", python3_12="exit 0")
    assert done.stdout.strip() == str(tmp_path / "python3.12")


def test_an_old_one_is_said(only):
    done = only(python3='[ "$1" = --version ] && echo Python 3.9.2 || exit 1')
    assert done.returncode == 1
    assert "Python 3.11 or newer is needed; this machine has Python 3.9.2" in done.stderr


def test_none_at_all_is_said(only):
    done = only()
    assert done.returncode == 1
    assert "none was found" in done.stderr
