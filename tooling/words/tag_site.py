"""Where tags lead: an address that phones reach, one that only this machine does, or a number that may change."""

import ipaddress
from dataclasses import dataclass
from urllib.parse import urlsplit

from django.utils.translation import gettext as _

from shared.run.address import is_own, lan_address

FREE, OWN, NUMBER = "free", "own", "number"


@dataclass(frozen=True, slots=True)
class Site:
    """An address, and what stands against printing it. `line`: what to type so that phones reach the shop."""

    url: str
    kind: str
    line: str = ""


def site(url: str, reserved: str) -> Site:
    """What is to be said of an address; `reserved`: the one that a lead said is kept for this machine."""
    if is_own(url):
        return Site(url, OWN, _line(url))
    if _is_number(urlsplit(url).hostname or "") and url != reserved:
        return Site(url, NUMBER)
    return Site(url, FREE)


def against(where: Site) -> str:
    """What stands against printing tags that lead there; "" where nothing does."""
    if where.kind == OWN:
        return _("A phone cannot open these tags: %(url)s is this machine alone.") % {"url": where.url}
    if where.kind == NUMBER:
        message = _(
            "These tags lead to %(url)s, a number that the router may give to another machine one day. A lead has it "
            "reserved there for this machine and says so under Tags."
        )
        return message % {"url": where.url}
    return ""


def _line(url: str) -> str:
    """What opens the shop to the house; "" on a machine without a network."""
    lan = lan_address()
    if lan is None:
        return ""
    port = urlsplit(url).port or 8000
    return f"HOST=0.0.0.0 {f'PORT={port} ' if port != 8000 else ''}SITE_URL=http://{lan}:{port} make run"


def _is_number(host: str) -> bool:
    try:
        ipaddress.ip_address(host)
    except ValueError:
        return False
    return True
