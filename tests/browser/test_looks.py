"""Every page that is read, in the demo shop: axe finds nothing, and nothing scrolls sideways on the smallest phone."""

import pytest
from django.conf import settings
from django.core.management import call_command
from django.test import Client

from tests.browser.axe import OVER, faults
from tooling.models import Person

PAGES = (
    "/", "/tools/", "/tools/?q=deck", "/tools/?view=list&sort=left&held=no", "/tools/?q=kyaak&kind=mold",
    "/tools/DECK-2B/", "/tools/DECK-2A/", "/tools/HATCH7/", "/tools/TN-HULL/pictures/", "/tools/COAM-TRIM/",
    "/tools/TN-HULL/", "/tools/14.HULL/", "/tools/NO-SUCH/", "/recipes/", "/recipes/SEMI/", "/recipes/SEMI/change/",
    "/racks/", "/racks/B-1/", "/racks/new/", "/racks/B-1/change/", "/parts/", "/parts/SK520-DECK/", "/me/",
    "/racks/HALL/", "/tools/new/", "/tools/DECK-2B/change/", "/tools/DECK-2B/move/", "/parts/new/",
    "/people/", "/people/new/", "/people/1/", "/join/none/", "/shop/", "/walk/", "/recipes/new/?from=SEMI",
    "/tools/DECK-2B/starting-state/", "/begin/place/", "/begin/recipe/", "/begin/tool/",
    "/keep/", "/keep/seal/", "/keep/seal/?seal=none",
)  # fmt: skip


@pytest.fixture
def opened(chromium, live_server):
    """Opens pages as a lead of the demo shop, in a browser of a given width and colours."""
    contexts = []

    def open_as(width, colours):
        # The policy of the pages would keep out the script that looks at them.
        context = chromium.new_context(
            base_url=live_server.url, viewport={"width": width, "height": 844}, color_scheme=colours, bypass_csp=True
        )
        contexts.append(context)
        client = Client()
        client.force_login(Person.objects.get(name="Ines"), backend="shared.access.RoleBackend")
        session = client.cookies[settings.SESSION_COOKIE_NAME].value
        context.add_cookies([{"name": settings.SESSION_COOKIE_NAME, "value": session, "url": live_server.url}])
        return context.new_page()

    yield open_as
    for context in contexts:
        context.close()


def test_the_pages_that_are_read(transactional_db, opened):
    call_command("demo", verbosity=0)
    for width, colours in ((320, "light"), (390, "dark"), (1280, "light")):
        page = opened(width, colours)
        for address in PAGES:
            page.goto(address)
            assert page.evaluate(OVER) == 0, f"{address} scrolls sideways at {width} px"
            assert faults(page) == [], f"{address} at {width} px, {colours}"


def test_the_first_pages_of_an_empty_shop(transactional_db, opened):
    Person.objects.create_person("Ines", "lead", "long enough for a test")
    page = opened(320, "light")
    for address in ("/", "/tools/", "/recipes/", "/walk/", "/begin/recipe/"):
        page.goto(address)
        assert page.evaluate(OVER) == 0
        assert faults(page) == []
