"""When it was: one line above the button, closed while it is just now."""

import re

import pytest

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def signed_in(client, hand, shop):
    client.force_login(hand)


def is_open(page):
    return re.search(r'<details class="when-fold"( open)?>', page.text)[1] is not None


@pytest.mark.parametrize("deed", ["lay-up", "film", "strip", "coat", "pulled", "clean"])
def test_the_line_is_closed_and_stands_above_the_button(client, deed):
    page = client.get(f"/tools/DECK-2A/{deed}/")
    assert not is_open(page)
    after = page.text.split('class="when-fold"')[1]
    assert re.search(r'<button class="(deed big|mark-deed)', after)
    before = page.text.split('class="when-fold"')[0].split("<form")[-1]
    assert not re.search(r'<button class="(deed big first|mark-deed)', before)


def test_it_is_open_where_another_time_was_chosen_or_is_wrong(send):
    assert is_open(send("film", at="yesterday", at_time=""))
    assert is_open(send("film", at="exact", at_exact="never"))
    assert is_open(send("lay_up", look="1", at="yesterday", at_time="08:00"))
    assert not is_open(send("lay_up", part_typed="SK520-DECK", serial="7, 7"))
