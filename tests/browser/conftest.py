"""The machine's own Chromium, on the server of the test."""

import os

import pytest
from django.conf import settings
from django.db import connections
from django.test import Client

from shared.run.browser import find, lacking
from tooling.models import Person

# Playwright keeps an event loop running in the thread of the test, and Django would refuse to be asked there.
os.environ["DJANGO_ALLOW_ASYNC_UNSAFE"] = "1"

QUIET = ["--disable-gpu", "--disable-quic", "--disable-background-networking", "--disable-component-update"]
QUIET += ["--disable-sync", "--no-first-run"]


@pytest.fixture(scope="session")
def chromium():
    """A running browser; the tests that want one are left out where there is none."""
    if lacking():
        pytest.skip(f"tests in a browser want {' and '.join(lacking())}")
    from playwright.sync_api import sync_playwright

    # From here on Playwright's loop has this thread, and Django opens a connection of its own in it: the one before
    # would stay open unseen, and keep every later test from having the database alone.
    connections.close_all()
    # Chromium's own sandbox does not start for root.
    flags = [*QUIET, "--no-sandbox"] if os.geteuid() == 0 else QUIET
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=find(), args=flags)
        yield browser
        browser.close()


@pytest.fixture
def page(request, chromium, live_server):
    """A new page, the size of a phone, where `/` is the server of this test. A script that fails is a failure."""
    context = chromium.new_context(base_url=live_server.url, viewport={"width": 390, "height": 844})
    context.set_default_timeout(15_000)
    page = context.new_page()
    faults: list[str] = []
    page.on("pageerror", lambda error: faults.append(str(error)))
    page.on("console", lambda message: faults.append(message.text) if message.type == "error" else None)
    yield page
    context.close()
    if request.node.get_closest_marker("bad_connection"):
        faults = [fault for fault in faults if not fault.startswith("Failed to load resource")]
    assert not faults


@pytest.fixture
def opened(chromium, live_server):
    """Opens a page for somebody by name, in a window of a given width, height, colours and pixels, or on a phone."""
    contexts = []

    def open_for(name, width, height=844, colours="light", pixels=1, touch=False):
        # The policy of the pages would keep out the script that looks at them.
        context = chromium.new_context(
            base_url=live_server.url, viewport={"width": width, "height": height}, color_scheme=colours,
            device_scale_factor=pixels, bypass_csp=True, has_touch=touch, is_mobile=touch,
        )  # fmt: skip
        context.set_default_timeout(30_000)
        contexts.append(context)
        if name:
            client = Client()
            client.force_login(Person.objects.named(name), backend="shared.access.RoleBackend")
            session = client.cookies[settings.SESSION_COOKIE_NAME].value
            context.add_cookies([{"name": settings.SESSION_COOKIE_NAME, "value": session, "url": live_server.url}])
        return context.new_page()

    yield open_for
    for context in contexts:
        context.close()
