"""What a page of the floor weighs over the wire: 120 kB the first time, 20 kB later, pictures aside."""

import gzip
import re
from functools import cache
from pathlib import Path

import pytest
from django.contrib.staticfiles import finders
from django.test import Client
from django.urls import resolve

from tests.browser import demo
from tests.browser.pages import NOBODY, NOWHERE, PAGES, Page
from tooling.models import Person
from tooling.urls_deeds import urlpatterns

FIRST, LATER = 120_000, 20_000
FLOOR = {pattern.name for pattern in urlpatterns} | {"board", "tool", "wall"}
LINKED = re.compile(r'(?:href|src)="/static/([^"]+)"')
IN_SHEET = re.compile(r'url\("?([^")]+\.woff2)"?\)')


@cache
def weighs(name: str) -> int:
    """A file as it is sent, and the fonts that a stylesheet asks for."""
    path = Path(finders.find(name))
    if path.suffix not in (".css", ".js", ".svg"):
        return path.stat().st_size
    text = path.read_text()
    fonts = {(path.parent / font).resolve() for font in IN_SHEET.findall(text)}
    return len(gzip.compress(text.encode())) + sum(font.stat().st_size for font in fonts)


@pytest.mark.django_db
def test_a_page_of_the_floor_is_light():
    demo.load()
    clients = {name: Client(headers={"accept-encoding": "gzip"}) for name in {page.by for page in PAGES} - {NOBODY}}
    for name, client in clients.items():
        client.force_login(Person.objects.named(name))
    weights = {}
    for page in PAGES:
        if page.by in clients and (address := on_the_floor(page)):
            reply = clients[page.by].get(address)
            later = len(reply.content)
            linked = set(LINKED.findall(gzip.decompress(reply.content).decode()))
            assert linked, page.name
            weights[page.name] = (later + sum(map(weighs, linked)), later)
    assert len(weights) > len(FLOOR) / 2
    assert {name: both for name, both in weights.items() if both[0] > FIRST or both[1] > LATER} == {}


def on_the_floor(page: Page) -> str:
    """Its address where it is a page of the floor, else ""."""
    if page.reply is not None or page.address == NOWHERE or page.status != 200:
        return ""
    address = page.at()
    return address if resolve(address.partition("?")[0]).url_name in FLOOR else ""
