"""A lead puts a part on the list beside the board; a hand lays it up and pulls it, and it ticks itself off."""

from tests.browser.day import PHONE
from tests.browser.going import follow
from tests.tooling.views.works import do, open_shop
from tooling.models import Kind, Part, PartRevision, SetLine, Shop, Wanted
from tooling.services.tools import add_tool


def works():
    """A mold that is ready at any hour of any day, and the part that is made in it."""
    wax = open_shop()
    Shop.objects.update(week="Mon-Sun 00:00-24:00", hands=2)
    deck = add_tool(code="DECK-2B", kind=Kind.MOLD, name="Sea kayak deck", release_system=wax)
    do("log_coat", deck)
    revision = PartRevision.objects.create(part=Part.objects.create(number="SK520"), name="Sea kayak, deck")
    SetLine.objects.create(revision=revision, role="mold", tool=deck)


def beside(page):
    return page.locator(".slip.wanted")


def test_it_is_put_on_the_list_laid_up_pulled_and_drawn_through(transactional_db, opened, lead, hand):
    works()
    desk = opened(lead.name, 1280)
    desk.goto("/")
    desk.get_by_label("Want a part").select_option("SK520")
    follow(desk, beside(desk).get_by_role("button", name="Add"))
    beside(desk).get_by_text("By the record it can be laid up now, in DECK-2B.").wait_for()
    assert Wanted.objects.get().by == lead

    phone = opened(hand.name, **PHONE, touch=True)
    phone.goto("/")
    follow(phone, beside(phone).get_by_role("link", name="Start lay-up DECK-2B"))
    assert phone.locator("[name=part][value=SK520]").is_checked()
    follow(phone, phone.get_by_role("button", name="Start lay-up"))
    phone.goto("/")
    beside(phone).get_by_text("1 of 1 laid up.").wait_for()
    follow(phone, beside(phone).get_by_role("link", name="Pulled DECK-2B"))
    follow(phone, phone.get_by_role("button", name="Free"))
    phone.goto("/")
    beside(phone).get_by_text("Laid up and pulled").wait_for()
    assert beside(phone).locator("s").inner_text() == "Sea kayak, deck × 1"
