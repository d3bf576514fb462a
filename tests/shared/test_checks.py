"""A misconfiguration is a sentence with an id and a hint, never a traceback."""

import os
import subprocess
import sys

import pytest

from shared import checks, libraries, media
from tests.guards.tree import ROOT


def manage(*words, **variables):
    """One command in a process of its own, with these settings."""
    keep = {name: os.environ[name] for name in ("PATH", "DATA_DIR") if name in os.environ}
    command = [sys.executable, "manage.py", *words]
    return subprocess.run(command, cwd=ROOT, env=keep | variables, capture_output=True, text=True)


BAD_SETTINGS = [
    {
        "shared.E004": ("SITE_URL", "shop.example"),
        "shared.E005": ("TIME_ZONE", "Mars/Olympus"),
        "shared.E006": ("DEBUG", "perhaps"),
        "shared.E007": ("MEDIA_STORAGE", "a-bucket"),
    },
    {"shared.E001": ("DATA_DIR", str(ROOT / "README.md"))},
    {"shared.E002": ("DATABASE_URL", "mysql://shop")},
    {"shared.E008": ("DATABASE_URL", "postgres://nobody@127.0.0.1:9/none")},
]


@pytest.mark.parametrize("bad", BAD_SETTINGS, ids=" ".join)
def test_bad_settings_stop_every_command_with_their_ids(bad):
    done = manage("check", "--database", "default", **dict(bad.values()))
    assert done.returncode == 1
    assert [id for id in bad if id not in done.stderr] == []
    assert done.stderr.count("HINT") >= len(bad)
    assert "Traceback" not in done.stderr


def test_a_server_started_by_hand_refuses_a_bad_setting_too():
    start = [sys.executable, "-c", "import shared.wsgi"]
    env = {"PATH": os.environ["PATH"], "DATA_DIR": os.environ["DATA_DIR"], "TIME_ZONE": "Mars/Olympus"}
    done = subprocess.run(start, cwd=ROOT, env=env, capture_output=True, text=True)
    assert done.returncode == 1
    assert done.stderr.startswith("shared.E005")


def test_nothing_is_left_to_say_before_going_public(tmp_path):
    env = {"SITE_URL": "https://shop.example", "DATA_DIR": str(tmp_path)}
    done = manage("check", "--deploy", **env)
    said = done.stdout + done.stderr
    assert done.returncode == 0
    # Pango may be missing where the tests run; nothing else may be said.
    assert "W00" not in said.replace("shared.W001", "")


def test_pango_that_is_missing_is_a_warning(monkeypatch):
    monkeypatch.setattr(libraries, "NEEDED", ("no-such-library-0",))
    (said,) = checks.pango_is_here(None)
    assert said.id == "shared.W001"
    assert not said.is_serious()
    assert "no-such-library-0" in said.msg


def test_a_bucket_wants_its_package(settings, monkeypatch):
    settings.MEDIA_STORAGE = "s3://pictures/shop"
    assert media.storage(settings.MEDIA_STORAGE)["OPTIONS"]["bucket_name"] == "pictures"
    monkeypatch.setattr(media, "can_reach_buckets", lambda: False)
    (said,) = checks.pictures_have_a_place(None)
    assert said.id == "shared.E009"
    assert "django-storages[s3]" in said.hint
    monkeypatch.setattr(media, "can_reach_buckets", lambda: True)
    assert checks.pictures_have_a_place(None) == []


def test_a_library_that_was_put_there_is_found_and_then_not_looked_for_again(monkeypatch):
    looked = []
    monkeypatch.setattr(libraries, "_here", set())
    monkeypatch.setattr(libraries, "_found", lambda name: looked.append(name) or name != "pango-1.0" or len(looked) > 3)
    assert libraries.missing() == ["pango-1.0"]
    assert libraries.missing() == []
    assert libraries.missing() == []
    assert looked == [*libraries.NEEDED, "pango-1.0"]
