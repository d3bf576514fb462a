"""Where the server listens."""

import socket

import pytest

from shared.run import address


@pytest.fixture(autouse=True)
def nothing_set(monkeypatch):
    for name in ("HOST", "PORT"):
        monkeypatch.delenv(name, raising=False)


def test_loopback_and_8000_by_default():
    assert address.wanted() == address.Address("127.0.0.1", 8000)
    assert not address.wanted().open_to_house
    assert address.wanted().url == "http://127.0.0.1:8000"


def test_the_whole_house(monkeypatch):
    monkeypatch.setenv("HOST", "0.0.0.0")
    monkeypatch.setenv("PORT", "8001")
    monkeypatch.setattr(address, "lan_address", lambda: "10.0.0.7")
    wanted = address.wanted()
    assert wanted.open_to_house
    assert (wanted.bind, wanted.url) == ("0.0.0.0:8001", "http://10.0.0.7:8001")


def test_an_address_of_six(monkeypatch):
    monkeypatch.setenv("HOST", "::1")
    assert address.wanted().bind == "[::1]:8000"
    assert not address.wanted().open_to_house


@pytest.mark.parametrize(("name", "value"), [("PORT", "0"), ("PORT", "65536"), ("PORT", "eight"), ("HOST", "house")])
def test_nonsense_is_said_in_one_line(monkeypatch, capsys, name, value):
    monkeypatch.setenv(name, value)
    with pytest.raises(SystemExit):
        address.wanted()
    said = capsys.readouterr().err
    assert said.startswith(f'{name} is "{value}"')
    assert said.count("\n") == 1


def test_a_port_that_is_taken_is_said_with_the_line_to_type(capsys):
    with socket.socket() as other:
        other.bind(("127.0.0.1", 0))
        other.listen()
        port = other.getsockname()[1]
        with pytest.raises(SystemExit):
            address.must_be_free(address.Address("127.0.0.1", port))
    assert "make run" in capsys.readouterr().err
    address.must_be_free(address.Address("127.0.0.1", port))


@pytest.mark.parametrize(
    ("url", "own"),
    [
        ("http://127.0.0.1:8000", True), ("http://[::1]:8000", True), ("http://localhost", True),
        ("http://shop.localhost:8000", True), ("https://shop.example", False), ("http://10.0.0.7:8000", False),
        ("https://localhost.example", False),
    ],
)  # fmt: skip
def test_whether_a_site_is_of_this_machine_alone(url, own):
    assert address.is_own(url) == own
