"""The pictures of `make looks`: every page in every size and colour. The name keeps them out of the suite."""

from functools import partial
from pathlib import Path

import pytest

from tests.browser import demo
from tests.browser.axe import OVER, faults
from tests.browser.looking import Looker
from tests.browser.pages import FIRST, PAGES
from tests.guards.tree import ROOT

FOLDER = Path(ROOT, "build", "looks")
# Width and height in CSS pixels, colours, device pixels to one of them: the last is a desk's window at 200 % zoom
SCREENS = {
    "390-light": (390, 844, "light", 1),
    "390-dark": (390, 844, "dark", 1),
    "1280-light": (1280, 900, "light", 1),
    "1280-dark": (1280, 900, "dark", 1),
    "320-light": (320, 640, "light", 1),
    "zoom-200": (640, 450, "light", 2),
}


@pytest.fixture(params=SCREENS)
def look(request, transactional_db, opened):
    """Takes the picture of each page on one screen; all that is wrong is told together, at the end."""
    width, height, colours, pixels = SCREENS[request.param]
    looker = Looker(partial(opened, width=width, height=height, colours=colours, pixels=pixels))
    wrong: list[str] = []

    def through(pages):
        for page, window, status in looker.through(pages):
            folder = FOLDER / page.name
            folder.mkdir(parents=True, exist_ok=True)
            window.screenshot(path=folder / f"{request.param}.png", full_page=True)
            if status != page.status:
                wrong.append(f"{page.name}: answered with {status}")
            if over := window.evaluate(OVER):
                wrong.append(f"{page.name}: {over} px sideways")
            wrong.extend(f"{page.name}: {rule} at {places}" for rule, places in faults(window))

    yield through
    assert not wrong, "\n".join(wrong)


def test_the_demo_shop(look):
    demo.load()
    look(PAGES)


def test_an_empty_shop(look):
    look(FIRST[:1])
    demo.open_empty()
    look(FIRST[1:])
