"""A deck mold with an insert, its trim mask and two parts, told by hand: what the pages of serial numbers must say."""

from types import SimpleNamespace

from tests.tooling.views import works
from tooling.models import Kind, Person
from tooling.services import deeds
from tooling.services.ledger import record

PART = "SK520-DECK"


def works_with_serials(wax):
    """Days and hours before the fixed morning, newest last; the numbers behind are of pulls since the coat.

    DECK-2A: coat (lot W14) · 0171 laid up (0), pulled free · 0172 laid up (1) with HATCH7 in, pulled tight · looked at
    and passed · 0173 laid up (2), pulled free · 0174 and a second without number, one pull of two (3) · held.
    """
    mara, jonas = (Person.objects.create_person(name) for name in ("Mara", "Jonas"))
    deck = works.mold("DECK-2A", wax, pulls=None)
    other = works.mold("DECK-2B", wax, pulls=None)
    hatch = works.mold("HATCH7", wax, pulls=None, kind=Kind.INSERT)
    mask = works.mold("COAM-TRIM", None, pulls=None, kind=Kind.TRIM_MASK)
    do = works.do
    do("inspect", deck, by=mara, at=works.ago(days=9), passed=True)
    do("log_coat", deck, by=mara, at=works.ago(days=8), lot="W14")
    do("log_coat", hatch, by=mara, at=works.ago(days=8), lot="W15")
    do("install", hatch, at=works.ago(days=6, hours=1), mold=deck)
    do("lay_up", deck, by=mara, at=works.ago(days=7), part=PART, serial="0171")
    do("log_pull", deck, by=jonas, at=works.ago(days=6, hours=12), part=PART, serial="0171", came_off="free")
    do("lay_up", deck, by=mara, at=works.ago(days=6), part=PART, serial="0172")
    do("log_pull", deck, by=jonas, at=works.ago(days=5), part=PART, serial="0172", came_off="tight", cause="undercut")
    do("remove", hatch, at=works.ago(days=4, hours=20))
    do("inspect", deck, by=mara, at=works.ago(days=4, hours=12), passed=True)
    do("lay_up", deck, by=mara, at=works.ago(days=4), part=PART, serial="0173")
    do("log_pull", deck, by=jonas, at=works.ago(days=3), part=PART, serial="0173", came_off="free")
    record(mask, "used", by=jonas, recorded_by=None, at=works.ago(days=2, hours=12), part=PART, serial="0173", count=1)
    do("log_pull", deck, by=jonas, at=works.ago(days=2), part=PART, serial="0174", count=2, came_off="free")
    do("hold", deck, by=jonas, at=works.ago(days=1), reason="chipped")
    return SimpleNamespace(deck=deck, other=other, hatch=hatch, mask=mask, mara=mara, jonas=jonas)


def put_on_the_other(shop, entry, at):
    """It was DECK-2B all along: told on the right one, void on the wrong one, written down at that moment."""
    return deeds.put_right(entry, tool=shop.other, reason="read the wrong tag", recorded_by=shop.mara)
