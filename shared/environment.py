"""Settings read from the environment. A bad value never stops Python: it is noted, and said by a system check."""

import os
import secrets
from dataclasses import dataclass
from pathlib import Path
from urllib.parse import urlsplit
from zoneinfo import ZoneInfo

YES = ("1", "true", "yes", "on")
NO = ("", "0", "false", "no", "off")


@dataclass(frozen=True, slots=True)
class Problem:
    """A setting that cannot be used as it was given."""

    id: str
    setting: str
    message: str
    hint: str


# What was found while the settings were read, in reading order; shared.checks reports it.
problems: list[Problem] = []


def note(id: str, setting: str, message: str, hint: str) -> None:
    """Remember a problem for the system checks."""
    problems.append(Problem(id, setting, message, hint))


def given(name: str) -> str:
    """The variable's value without outer spaces; "" when it is not set."""
    return os.environ.get(name, "").strip()


def flag(name: str, id: str) -> bool:
    """A yes or no, with no as the default."""
    word = given(name).casefold()
    if word not in YES + NO:
        note(id, name, f'{name} is "{word}", which is neither yes nor no.', "Write it as yes or no, or leave it out.")
    return word in YES


def words(name: str) -> list[str]:
    """A list with commas between its words."""
    return [word.strip() for word in given(name).split(",") if word.strip()]


def folder(name: str, default: Path, id: str) -> Path:
    """A folder that can be written to; an absent one is made, for the eyes of its owner alone."""
    path = Path(given(name) or default).absolute()
    hint = f"Set {name} to a folder that you may write to."
    try:
        path.mkdir(mode=0o700, parents=True, exist_ok=True)
    except OSError as error:
        note(id, name, f"The folder {path} cannot be made: {error.strerror}.", hint)
        return path
    if not os.access(path, os.W_OK | os.X_OK):
        note(id, name, f"The folder {path} cannot be written to.", hint)
    return path


def site_url(name: str, default: str, id: str) -> str:
    """The address people type and tags point to, without a slash at its end."""
    url = (given(name) or default).rstrip("/")
    if is_site(url):
        return url
    hint = f"Write it as {default} or https://shop.example, without a path."
    note(id, name, f'{name} is "{url}", which is no address of a site.', hint)
    return default


def is_site(url: str) -> bool:
    """Whether it is a scheme and a host, perhaps with a port, and nothing more."""
    try:
        parts = urlsplit(url)
        port_is_one = parts.port is None or parts.port > 0
    except ValueError:
        return False
    more = parts.path or parts.query or parts.fragment or parts.username
    return parts.scheme in ("http", "https") and bool(parts.hostname) and port_is_one and not more


def time_zone(name: str, id: str) -> str:
    """A zone by its name, by default that of the machine."""
    zone = given(name)
    if not zone:
        return machine_zone()
    if is_zone(zone):
        return zone
    note(id, name, f'{name} is "{zone}", which is no known time zone.', "Use a name like Europe/Oslo or UTC.")
    return "UTC"


def is_zone(zone: str) -> bool:
    """Whether the zone's rules are known here."""
    try:
        ZoneInfo(zone)
    except (ValueError, OSError, KeyError):
        return False
    return True


def machine_zone(etc: Path = Path("/etc")) -> str:
    """The zone the machine is set to, else UTC."""
    try:
        named = (etc / "timezone").read_text(encoding="utf-8").strip()
    except (OSError, UnicodeDecodeError):
        named = ""
    linked = str((etc / "localtime").resolve()).partition("zoneinfo/")[2]
    found = next((zone for zone in (linked, named) if zone and is_zone(zone)), "UTC")
    return "UTC" if found == "Etc/UTC" else found  # one zone, said as people say it


def secret_key(name: str, kept_in: Path, id: str) -> str:
    """The key that signs sessions: as given, else one made once and kept where only its owner reads it."""
    key = given(name)
    if key:
        return key
    path = kept_in / "secret_key"
    try:
        _make_key(path)
        key = path.read_text(encoding="ascii").strip()
    except (OSError, UnicodeDecodeError) as error:
        hint = f"Set {name}, or let DATA_DIR be written to."
        note(id, name, f"The key in {path} cannot be kept or read: {error}.", hint)
    return key or secrets.token_urlsafe(50)


def _make_key(path: Path) -> None:
    """Write a new key unless there is one; of two processes at once, both end with the first one's."""
    if path.exists():
        return
    draft = path.with_name(f".{path.name}.{os.getpid()}")
    handle = os.open(draft, os.O_WRONLY | os.O_CREAT | os.O_TRUNC, 0o600)
    with os.fdopen(handle, "w", encoding="ascii") as file:
        file.write(secrets.token_urlsafe(50) + "\n")
    try:
        os.link(draft, path)
    except FileExistsError:
        pass
    finally:
        draft.unlink()
