"""The pictures of `make screenshots`. The name keeps them out of the suite.

It is always 07:40 on the next weekday in them: in the night or on a Sunday the demo's morning is a poor one, and a time
that is yet to come keeps every cookie good.
"""

import io
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pypdfium2
import pytest
import time_machine
from django.conf import settings
from django.test import Client
from django.urls import reverse
from PIL import Image

from shared.paper import stocks
from shared.units import METRIC
from tests.browser.looking import DRAWN
from tests.fixtures import shelf
from tests.guards.tree import ROOT
from tooling.models import STRIP, Person, Span, Summary, Tool, Tried
from tooling.services.tags import printing
from tooling.services.tags.reserved import say_reserved

FOLDER = Path(ROOT, "docs", "pictures")
MOST = 150_000  # bytes of one picture
PHONE, DESK = {"width": 390, "height": 844, "pixels": 1.5}, {"width": 1280, "height": 900, "pixels": 1}
LEAD, HAND, TABLET = "Ines", "Jonas", "Wall tablet"


def next_morning() -> datetime:
    """07:40 on the next day that is neither a Saturday nor a Sunday."""
    day = datetime.now(UTC).replace(hour=7, minute=40, second=0, microsecond=0) + timedelta(days=1)
    while day.weekday() > 4:
        day += timedelta(days=1)
    return day


def in_a_mold() -> str:
    """The page of a pull, of the part that may come out first."""
    of = Summary.objects.exclude(laid_up_at=None).filter(tool__kind="mold").order_by("laid_up_at").first()
    return reverse("pulled", args=[of.tool.code])


def ready() -> str:
    """The start of a lay-up in a mold with pulls left."""
    now = datetime.now(UTC)
    span = Span.objects.filter(tool__kind="mold", status="ready", from_at__lte=now, until_at__gt=now).first()
    return reverse("lay_up", args=[span.tool.code])


# Name of the picture, who opens it, the address or what finds it, on which screen
SHOTS = (
    ("board-desk", LEAD, "/", DESK),
    ("board-phone", LEAD, "/", PHONE),
    ("tool-desk", LEAD, "/tools/DECK-2B/", DESK),
    ("tool-phone", HAND, "/tools/DECK-2B/", PHONE),
    ("lay-up-phone", HAND, ready, PHONE),
    ("pulled-phone", HAND, in_a_mold, PHONE),
    ("find-desk", LEAD, "/tools/?q=deck", DESK),
    ("wall-desk", TABLET, "/wall/", DESK),
    ("tags-desk", LEAD, "/tags/print/?tool=DECK-2A&tool=HATCH7", DESK),
)


def sheet(file: Path) -> None:
    """A tool on one page."""
    client = Client()
    client.force_login(Person.objects.named(LEAD), backend="shared.access.RoleBackend")
    file.write_bytes(client.get("/tools/DECK-2B/sheet.pdf").content)


def tags(file: Path) -> None:
    """Tags of every kind of tool, as they come out on an A4 sheet."""
    tools = list(Tool.objects.filter(code__in=TAGGED).values_list("pk", flat=True))
    printing.make(
        printing.Chosen(tools=tools), file, at=datetime.now(UTC), stock=stocks.stock(stocks.A4_SHEET), units=METRIC,
        site_url=settings.SITE_URL,
    )  # fmt: skip


TAGGED = ("DECK-2A", "HULL520", "HATCH7", "COAM-TRIM", "PLUG520", "TN-THWART", "12.STBD", "SKEGBOX")
# Name of the picture, what draws the PDF, whose first page it shows, and dots per inch
PAPER = (("sheet", sheet, 110), ("tags", tags, 110))


def keep(name: str, picture: Image.Image) -> None:
    path = FOLDER / f"{name}.webp"
    picture.convert("RGB").save(path, "WEBP", quality=82, method=6)
    assert path.stat().st_size <= MOST, name


@pytest.fixture
def works(transactional_db, settings):
    """The demo on such a morning, in a shop that has an address in the house."""
    with time_machine.travel(next_morning()):
        settings.SITE_URL = "http://192.168.1.20:8000"
        shelf.load()
        address = settings.SITE_URL
        say_reserved(address, shown=address, by=Person.objects.named(LEAD), at=datetime.now(UTC))
        Tried.objects.bulk_create(Tried(person=person, step=STRIP) for person in Person.objects.exclude(role=""))
        FOLDER.mkdir(parents=True, exist_ok=True)
        yield


def test_pages(works, opened):
    for name, who, address, screen in SHOTS:
        window = opened(who, **screen)
        window.clock.set_system_time(datetime.now(UTC))
        window.goto(address if isinstance(address, str) else address())
        window.evaluate(DRAWN)
        keep(name, Image.open(io.BytesIO(window.screenshot())))


def test_paper(works, tmp_path):
    for name, draw, dots in PAPER:
        draw(tmp_path / name)
        page = pypdfium2.PdfDocument(tmp_path / name)[0]
        keep(name, page.render(scale=dots / 72).to_pil())
