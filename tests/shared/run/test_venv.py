"""The virtual environment: made once, filled once, made anew where it cannot work."""

import pytest

from shared.run import venv


@pytest.fixture
def made(monkeypatch, tmp_path):
    """What was made and installed, in a project of two files; nothing is really run."""
    done: list[str] = []
    for name in ("requirements.txt", "requirements-test.txt"):
        (tmp_path / name).write_text(name)
    folder = tmp_path / ".venv"
    monkeypatch.setattr(venv, "ROOT", tmp_path)
    monkeypatch.setattr(venv, "FOLDER", folder)
    monkeypatch.setattr(venv, "_works", folder.exists)
    monkeypatch.setattr(venv, "_make", lambda: (folder.mkdir(), done.append("made")))
    monkeypatch.setattr(venv, "_install", done.append)
    return done


def test_it_is_made_and_filled_once(made):
    venv.ready("requirements.txt")
    venv.ready("requirements.txt")
    assert made == ["made", "requirements.txt"]


def test_other_requirements_are_put_on_top(made):
    venv.ready("requirements.txt")
    venv.ready("requirements-test.txt")
    venv.ready("requirements.txt")
    assert made == ["made", "requirements.txt", "requirements-test.txt"]


def test_a_changed_file_is_installed_again(made, tmp_path):
    venv.ready("requirements-test.txt")
    (tmp_path / "requirements.txt").write_text("changed")
    venv.ready("requirements-test.txt")
    assert made[1:] == ["requirements-test.txt"] * 2
