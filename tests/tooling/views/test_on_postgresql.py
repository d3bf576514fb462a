"""Every page once on PostgreSQL, in the demo shop and in an empty one: what it says is tested on SQLite."""

import pytest
from django.test import Client

from tests.browser import demo
from tests.browser.pages import FIRST, PAGES
from tooling.models import Person

pytestmark = [pytest.mark.django_db, pytest.mark.postgresql]


def opened(pages):
    """Names, each with the status that it should have and the one that it has."""
    clients = {"": Client()}
    for page in pages:
        address = page.at()
        if page.by not in clients:
            clients[page.by] = Client()
            clients[page.by].force_login(Person.objects.named(page.by), backend="shared.access.RoleBackend")
        reply = clients[page.by].get(address) if page.reply is None else page.reply()
        yield page.name, page.status, reply.status_code


def test_every_page_of_the_demo_shop():
    demo.load()
    assert [(name, came) for name, expected, came in opened(PAGES) if came != expected] == []


def test_every_first_page_of_an_empty_shop():
    found = list(opened(FIRST[:1]))
    demo.open_empty()
    found += opened(FIRST[1:])
    assert [(name, came) for name, expected, came in found if came != expected] == []
