"""From page to page: a tap that leads on is over only when the page it leads to is there, scripts and all.

Otherwise a test on a slow machine goes on upon the page before.
"""


def follow(page, what):
    """Taps a link or a button that leads to another page, and waits until that is loaded."""
    with page.expect_navigation():
        what.click()


def leading(page, name):
    """Follows the first link of that name."""
    follow(page, page.get_by_role("link", name=name).first)
