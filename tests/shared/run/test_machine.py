"""Packages of the system: installed where that asks nobody, else said."""

import pytest

from shared.run import machine


@pytest.fixture
def commands(monkeypatch):
    """Every command that would have been run; all of them succeed."""
    ran: list[list[str]] = []
    monkeypatch.setattr(machine, "_quiet", lambda command: ran.append(command) or True)
    monkeypatch.setattr(machine, "manager", lambda: "apt-get")
    return ran


def test_root_installs_without_asking(commands, monkeypatch):
    monkeypatch.setattr(machine.os, "geteuid", lambda: 0)
    assert machine.install(["one", "two"])
    assert commands[0][-2:] == ["-qq", "update"]
    assert commands[1][-2:] == ["one", "two"]
    assert "sudo" not in commands[1]


def test_without_the_right_nothing_is_tried(commands, monkeypatch):
    monkeypatch.setattr(machine.os, "geteuid", lambda: 1000)
    monkeypatch.setattr(machine.shutil, "which", lambda name: None)
    assert not machine.install(["one"])
    assert commands == []


def test_pango_that_is_here_is_left_alone(commands, monkeypatch):
    monkeypatch.setattr(machine, "_without_password", list)
    monkeypatch.setattr(machine.libraries, "missing", list)
    machine.have_pango()
    assert commands == []
    monkeypatch.setattr(machine.libraries, "missing", lambda: ["pango-1.0"])
    machine.have_pango()
    assert "libpango-1.0-0" in commands[-1]


def test_without_venv_the_line_to_type_is_said_and_it_ends(commands, monkeypatch, capsys):
    monkeypatch.setattr(machine, "_can_import", lambda module: False)
    monkeypatch.setattr(machine, "_without_password", lambda: None)
    with pytest.raises(SystemExit):
        machine.have_venv()
    assert "sudo apt-get install python3" in capsys.readouterr().err
