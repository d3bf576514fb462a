"""Settings from the environment: what is given, what is the default, and what is said of a bad one."""

import stat
from zoneinfo import ZoneInfo

import pytest

from shared import environment as env

pytestmark = pytest.mark.usefixtures("problems")


def ids(problems):
    return [problem.id for problem in problems]


@pytest.mark.parametrize(("word", "means"), [("", False), ("no", False), ("0", False), ("YES", True), (" 1 ", True)])
def test_a_flag_is_a_yes_or_a_no(monkeypatch, problems, word, means):
    monkeypatch.setenv("DEBUG", word)
    assert env.flag("DEBUG", "x") is means
    assert not problems


def test_a_flag_that_is_neither_is_off_and_said(monkeypatch, problems):
    monkeypatch.setenv("DEBUG", "perhaps")
    assert env.flag("DEBUG", "x") is False
    assert ids(problems) == ["x"]


@pytest.mark.parametrize("url", ["http://127.0.0.1:8000", "https://shop.example/", "http://[::1]:80"])
def test_an_address_of_a_site(monkeypatch, problems, url):
    monkeypatch.setenv("SITE_URL", url)
    assert env.site_url("SITE_URL", "http://127.0.0.1", "x") == url.rstrip("/")
    assert not problems


@pytest.mark.parametrize(
    "url", ["shop.example", "ftp://a", "http://", "http://a:b", "http://a/b", "http://a:0", "http://u@a"]
)
def test_no_address_of_a_site(monkeypatch, problems, url):
    monkeypatch.setenv("SITE_URL", url)
    assert env.site_url("SITE_URL", "http://127.0.0.1", "x") == "http://127.0.0.1"
    assert ids(problems) == ["x"]


@pytest.mark.parametrize("zone", ["Mars/Olympus", "../../etc/passwd", "Europe", "\x00"])
def test_no_time_zone(monkeypatch, problems, zone):
    monkeypatch.setattr(env, "given", lambda name: zone)
    assert env.time_zone("TIME_ZONE", "x") == "UTC"
    assert ids(problems) == ["x"]


def test_the_zone_is_the_machines_by_default(monkeypatch):
    monkeypatch.delenv("TIME_ZONE", raising=False)
    assert ZoneInfo(env.time_zone("TIME_ZONE", "x"))


def test_the_machines_zone_is_read_from_its_files(tmp_path):
    assert env.machine_zone(tmp_path) == "UTC"
    (tmp_path / "timezone").write_text("Europe/Oslo\n")
    assert env.machine_zone(tmp_path) == "Europe/Oslo"
    (tmp_path / "timezone").write_text("nonsense\n")
    assert env.machine_zone(tmp_path) == "UTC"


def test_the_key_is_made_once_and_is_its_owners_alone(tmp_path, monkeypatch, problems):
    monkeypatch.delenv("SECRET_KEY", raising=False)
    key = env.secret_key("SECRET_KEY", tmp_path, "x")
    assert len(key) > 50
    assert env.secret_key("SECRET_KEY", tmp_path, "x") == key
    assert [path.name for path in tmp_path.iterdir()] == ["secret_key"]
    assert stat.S_IMODE((tmp_path / "secret_key").stat().st_mode) == 0o600
    monkeypatch.setenv("SECRET_KEY", "given")
    assert env.secret_key("SECRET_KEY", tmp_path, "x") == "given"
    assert not problems


def test_a_key_that_cannot_be_kept_is_said(tmp_path, monkeypatch, problems):
    monkeypatch.delenv("SECRET_KEY", raising=False)
    assert env.secret_key("SECRET_KEY", tmp_path / "absent", "x")
    assert ids(problems) == ["x"]


def test_a_folder_is_made(tmp_path, monkeypatch, problems):
    monkeypatch.setenv("DATA_DIR", str(tmp_path / "new" / "one"))
    assert env.folder("DATA_DIR", tmp_path, "x").is_dir()
    assert not problems


def test_a_file_is_no_folder(tmp_path, monkeypatch, problems):
    (tmp_path / "file").touch()
    monkeypatch.setenv("DATA_DIR", str(tmp_path / "file"))
    env.folder("DATA_DIR", tmp_path, "x")
    assert ids(problems) == ["x"]
