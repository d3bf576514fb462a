"""Signing in, as a person with a browser does it."""

import re

from tests.browser.going import follow

PASSWORD = "long enough for a test"


def sign_in(page, name):
    page.get_by_label("Name").fill(name)
    page.get_by_label("Password").fill(PASSWORD)
    page.get_by_role("button", name="Sign in").click()


def test_a_name_and_its_password_open_the_door(page, transactional_db, hand):
    page.goto("/sign-in/?next=/sign-in/")
    sign_in(page, "test HAND")
    page.wait_for_url(re.compile(r"/$"))
    assert page.context.cookies()[0]["httpOnly"] or page.context.cookies()[1]["httpOnly"]


def test_a_wrong_password_says_so_at_the_form_and_keeps_the_name(page, transactional_db, hand):
    page.goto("/sign-in/")
    page.get_by_label("Name").fill("Test hand")
    page.get_by_label("Password").fill("wrong")
    follow(page, page.get_by_role("button", name="Sign in"))
    assert page.get_by_role("alert").is_visible()
    assert page.get_by_label("Name").input_value() == "Test hand"
