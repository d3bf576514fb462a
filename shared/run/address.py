"""Where the server listens and what people type to reach it."""

import ipaddress
import os
import socket
from dataclasses import dataclass
from urllib.parse import urlsplit

from shared.run.talk import stop


@dataclass(frozen=True, slots=True)
class Address:
    """A host to bind and a port."""

    host: str
    port: int

    @property
    def open_to_house(self) -> bool:
        """Whether other machines reach it."""
        return not ipaddress.ip_address(self.host).is_loopback

    @property
    def url(self) -> str:
        """What to type into a browser."""
        host = self.host
        if ipaddress.ip_address(host).is_unspecified:
            host = lan_address() or "127.0.0.1"
        return f"http://{bracketed(host)}:{self.port}"

    @property
    def bind(self) -> str:
        """As gunicorn wants it."""
        return f"{bracketed(self.host)}:{self.port}"


def wanted() -> Address:
    """What HOST and PORT say; loopback and 8000 by default."""
    host = os.environ.get("HOST", "").strip() or "127.0.0.1"
    host = "127.0.0.1" if host == "localhost" else host
    port = os.environ.get("PORT", "").strip() or "8000"
    try:
        ipaddress.ip_address(host)
    except ValueError:
        stop(f'HOST is "{host}". Use 127.0.0.1 for this machine alone or 0.0.0.0 for the whole house.')
    if not port.isascii() or not port.isdigit() or not 0 < int(port) < 65536:
        stop(f'PORT is "{port}". Use a number from 1 to 65535, for example PORT=8001.')
    return Address(host, int(port))


def must_be_free(address: Address) -> None:
    """Stop when another program listens there already."""
    family = socket.AF_INET6 if ":" in address.host else socket.AF_INET
    with socket.socket(family, socket.SOCK_STREAM) as probe:
        probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            probe.bind((address.host, address.port))
        except OSError as error:
            stop(
                f"Port {address.port} on {address.host} cannot be used: {error.strerror}. "
                f"If another program has it, take another:\n    PORT={address.port % 65535 + 1} make run"
            )


def lan_address() -> str | None:
    """This machine's address in the house, or None without a network."""
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
        try:
            # Nothing is sent: this only asks the system which way it would send it.
            probe.connect(("192.0.2.1", 9))
            found = str(probe.getsockname()[0])
        except OSError:
            return None
    return None if ipaddress.ip_address(found).is_loopback else found


def is_own(url: str) -> bool:
    """Whether an address of a site can be reached from this machine alone."""
    host = (urlsplit(url).hostname or "").rstrip(".")
    if host == "localhost" or host.endswith(".localhost"):
        return True
    try:
        return ipaddress.ip_address(host).is_loopback
    except ValueError:
        return False


def bracketed(host: str) -> str:
    """An IPv6 address as it stands in a URL."""
    return f"[{host}]" if ":" in host else host
