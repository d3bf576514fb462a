"""Every plain address answers a lead with one heading of the first order."""

import re

import pytest
from django.urls import URLPattern, URLResolver, get_resolver

# One is a piece of a page. For machines: one says "ok" and nothing else, one is a table, one a workbook.
# What to try is of the demo alone, and not there in a shop of one's own.
NO_PAGE = {"/wall/rows/", "/try/", "/healthz", "/tools.csv", "/serials.csv", "/import/moving-in.xlsx"}


def plain_addresses(patterns: list, start: str = "/") -> list[str]:
    """Every address without a variable part."""
    found: list[str] = []
    for entry in patterns:
        address = start + str(entry.pattern)
        if isinstance(entry, URLResolver):
            found += plain_addresses(entry.url_patterns, address)
        elif isinstance(entry, URLPattern) and not re.search(r"[<(\[?*]", str(entry.pattern)):
            found.append(address.replace("^", "").replace("$", ""))
    return found


ADDRESSES = sorted(set(plain_addresses(get_resolver().url_patterns)) - NO_PAGE)


@pytest.mark.django_db
@pytest.mark.parametrize("address", ADDRESSES)
def test_a_plain_address_has_one_heading(address, client, lead):
    client.force_login(lead)
    reply = client.get(address)
    if reply.status_code == 405:  # a deed: it is posted, never opened
        return
    while reply.status_code in (301, 302):
        reply = client.get(reply.url)
    assert reply.status_code == 200
    assert len(re.findall(r"<h1[\s>]", reply.text)) == 1
