"""A tool is stopped by one hand and freed by another; with formal records on the same hand is refused."""

import pytest

from tests.browser.going import follow, leading
from tests.browser.test_deeds import sound
from tests.tooling.views.deeds.conftest import shop
from tooling.models import Entry, Shop, Summary

__all__ = ["shop"]


@pytest.fixture
def formal(transactional_db, shop):
    Shop.objects.update(formal_records=True)
    return shop


def free(page, words):
    page.goto("/tools/DECK-2A/looked-at/")
    page.get_by_label("yes, free it").check()
    page.get_by_label("In words").fill(words)
    follow(page, page.get_by_role("button", name="Looked at", exact=True))


def held():
    return Summary.objects.get(tool__code="DECK-2A").held_since is not None


def test_one_stops_it_and_another_frees_it(opened, formal, hand, lead):
    page = opened(hand.name, 390)
    page.goto("/tools/DECK-2A/")
    leading(page, "Stop: do not use")
    page.get_by_label("In words").fill("crack at the keel")
    follow(page, page.get_by_role("button", name="Stop it, with these words"))
    assert "Tape a cross on it now." in page.locator("main").inner_text()
    assert page.get_by_role("button", name="Print the held tag").is_visible()

    page.goto("/tools/DECK-2A/looked-at/")
    page.get_by_label("yes, free it").check()
    page.get_by_label("In words").fill("only a scratch")
    page.get_by_role("button", name="Looked at", exact=True).click()
    page.get_by_text("another person looks at it").first.wait_for()
    assert page.get_by_label("In words").input_value() == "only a scratch"
    assert held()

    other = opened(lead.name, 390)
    free(other, "ground out and polished")
    assert not held()
    hold = Entry.objects.get(kind="hold")
    other.goto(f"/tools/DECK-2A/holds/{hold.number}/")
    story = other.locator("main").inner_text()
    assert "crack at the keel" in story
    assert "by Test lead, who had looked at it: “ground out and polished”" in story
    sound(other)
