"""A day on the floor: the shop's clock is turned for every page, taps are counted, and each step is looked up."""

from datetime import timedelta
from functools import partial

from shared import clock
from tests.browser.axe import OVER, faults
from tests.tooling.views.works import NOW, do, open_shop
from tooling.models import Entry, Part, PartRevision, RecipeVersion, Shop, Summary
from tooling.services.whole_check import findings

SOON = 10_000  # milliseconds
PHONE = {"width": 390, "height": 844}
# Before any script of a page: every finger that comes down, over all pages of the tab.
COUNTING = """addEventListener("pointerdown", () => {
  sessionStorage.setItem("taps", 1 + Number(sessionStorage.getItem("taps")));
}, true)"""


class Hours:
    """What the clock is told, in the threads of the server as well."""

    def __init__(self, monkeypatch):
        self.now = NOW
        monkeypatch.setattr(clock, "_told", self)

    def get(self):
        return self.now

    def pass_by(self, **time):
        self.now += timedelta(**time)

    def shown(self, **time):
        """The clock of the shop, so much later."""
        return self.shop_time(self.now + timedelta(**time))

    @staticmethod
    def shop_time(at):
        return f"{at.astimezone(Shop.objects.get().zone):%H:%M}"


class Phone:
    """Somebody's phone: what is tapped on it, and whether its pages are sound."""

    def __init__(self, page):
        self.page = page
        page.context.set_default_timeout(SOON)
        page.context.add_init_script(COUNTING)
        self.failed = []
        page.on("pageerror", lambda error: self.failed.append(str(error)))

    def scan(self, code):
        """The tag's code opens the tool; from here on taps are counted."""
        self.page.goto(f"/T/{code}/")
        self.page.wait_for_url(f"**/tools/{code}/")
        self.page.evaluate("sessionStorage.removeItem('taps')")

    @property
    def taps(self):
        return int(self.page.evaluate("sessionStorage.getItem('taps')") or 0)

    def link(self, name, **which):
        self._wait(name, self.page.locator("main").get_by_role("link", name=name, **which).first.tap)

    def button(self, name, **which):
        self._wait(name, self.page.locator("main").get_by_role("button", name=name, **which).first.tap)

    def fold(self, name):
        self.page.locator("main summary", has_text=name).first.tap()

    def chip(self, name):
        word = self.page.get_by_text(name, exact=True)
        self._wait(name, self.page.locator("main label").filter(has=word).first.tap)

    def reads(self, *words):
        for one in words:
            shown = self.page.locator("main").get_by_text(one).filter(visible=True).first
            self._wait(one, shown.wait_for)

    def at(self, address):
        self._wait(address, partial(self.page.wait_for_url, f"**{address}"))

    def _wait(self, what, wait):
        """Until it is there; else what the page says instead."""
        try:
            wait(timeout=SOON)
        except Exception as late:
            says = self.page.locator("main").inner_text()
            raise AssertionError(f"{what!r} is not there: {self.page.url} says {says[:1500]}") from late

    def is_sound(self):
        assert faults(self.page) == []
        own = self.page.viewport_size
        for width in (320, 390, 1280, own["width"]):
            self.page.set_viewport_size({**own, "width": width})
            assert self.page.evaluate(OVER) == 0, f"{self.page.url} scrolls sideways at {width} px"


def open_day(**recipe):
    """A shop with a part and a paste wax: a wait between coats and after them, four pulls."""
    wax = open_shop()
    times = {"coat_gap_minutes": 30, "wipe_minutes": 10, "cure_hours_preparation": 2, "cure_hours_touch_up": 1}
    RecipeVersion.objects.update(**{**times, **recipe})
    part = Part.objects.create(number="SK520-DECK")
    PartRevision.objects.create(part=part, name="Deck", layup_minutes=150, in_mold_hours=20)
    return wax


def in_it(insert, mold):
    """A mold insert is installed."""
    do("install", insert, mold=mold)


def last(tool, kind):
    """The newest entry of a kind that still stands."""
    return Entry.objects.filter(tool=tool, kind=kind).standing().latest("pk")


def entries(tool, kind):
    return Entry.objects.filter(tool=tool, kind=kind).standing().count()


def summary(tool):
    return Summary.objects.get(tool=tool)


def holds(tool):
    return sorted(summary(tool).state.get("holds", {}))


def nothing_is_wrong(*phones):
    """In all that was written, and in the scripts of the pages."""
    assert [failed for phone in phones for failed in phone.failed] == []
    assert [str(one) for one in findings()] == []
