"""The machine's own Chromium, on the server of the test."""

import os

import pytest

from shared.run.browser import find, lacking

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

    # Chromium's own sandbox does not start for root.
    flags = [*QUIET, "--no-sandbox"] if os.geteuid() == 0 else QUIET
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=find(), args=flags)
        yield browser
        browser.close()


@pytest.fixture
def page(chromium, live_server):
    """A new page, the size of a phone, where `/` is the server of this test. A script that fails is a failure."""
    context = chromium.new_context(base_url=live_server.url, viewport={"width": 390, "height": 844})
    context.set_default_timeout(15_000)
    page = context.new_page()
    faults: list[str] = []
    page.on("pageerror", lambda error: faults.append(str(error)))
    page.on("console", lambda message: faults.append(message.text) if message.type == "error" else None)
    yield page
    context.close()
    assert not faults
