"""Every page, once: axe finds nothing, nothing scrolls sideways. `make looks` does it in every size and colour."""

from functools import partial

import pytest

from tests.browser import demo
from tests.browser.axe import OVER, faults
from tests.browser.looking import Looker
from tests.browser.pages import FIRST, PAGES


def is_sound(page, window, status):
    """At the width of a phone for axe, and nothing sideways at the smallest phone's and at a desk's."""
    assert status == page.status, page.name
    assert faults(window) == [], page.name
    for width in (320, 1280):
        window.set_viewport_size({"width": width, "height": 844})
        assert window.evaluate(OVER) == 0, f"{page.name} scrolls sideways at {width} px"
    window.set_viewport_size({"width": 390, "height": 844})


# Several processes share the pages.
SHARES = 2


@pytest.mark.parametrize("share", range(SHARES))
def test_every_page_of_the_demo_shop(share, transactional_db, opened):
    demo.load()
    for shown in Looker(partial(opened, width=390, colours="dark")).through(PAGES[share::SHARES]):
        is_sound(*shown)


def test_every_first_page_of_an_empty_shop(transactional_db, opened):
    looker = Looker(partial(opened, width=390))
    for shown in looker.through(FIRST[:1]):
        is_sound(*shown)
    demo.open_empty()
    for shown in looker.through(FIRST[1:]):
        is_sound(*shown)
