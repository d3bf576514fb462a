"""Going from page to page as the people who open them."""

from collections.abc import Callable, Iterable, Iterator
from typing import Any

from tests.browser.pages import Page

# Letters, and the pictures that would wait until somebody scrolls to them
DRAWN = """() => Promise.all([document.fonts.ready, ...[...document.images].map(image => {
  image.loading = "eager";
  return image.decode().catch(() => {});
})]).then(() => 0)"""


class Looker:
    """One window a person, all of one size and colours; `opens` makes a window for a name."""

    def __init__(self, opens: Callable[[str], Any]) -> None:
        self._opens = opens
        self._windows: dict[str, Any] = {}

    def through(self, pages: Iterable[Page]) -> Iterator[tuple[Page, Any, int]]:
        """Each page, the window that shows it, and the status that it came with."""
        for page in pages:
            if page.by not in self._windows:
                self._windows[page.by] = self._opens(page.by)
            window = self._windows[page.by]
            address = page.at()
            if page.reply is None:
                came = window.goto(address)
                # Led elsewhere, it is another page that is shown.
                status = 302 if came.request.redirected_from else came.status
            else:
                status = self._as_if_sent(window, address, page.reply())
            window.evaluate(DRAWN)
            yield page, window, status

    @staticmethod
    def _as_if_sent(window: Any, address: str, reply: Any) -> int:
        """Shows what came back, at the address it would stand at."""
        headers = {"content-type": reply.headers["content-type"]}
        answer = {"status": reply.status_code, "body": reply.content, "headers": headers}
        window.route(f"**{address}", lambda route: route.fulfill(**answer))
        status = window.goto(address).status
        window.unroute(f"**{address}")
        return status
