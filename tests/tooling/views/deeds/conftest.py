"""A shop of three tools: a mold that is ready, an insert that is in it, and a trim mask."""

import re
from functools import partial
from types import SimpleNamespace
from uuid import uuid4

import pytest
from django.urls import reverse

from tests.fixtures.once import once
from tooling.models import Kind, Part, PartRevision, Person, RecipeVersion, ReleaseSystem, Shop
from tooling.services import deeds, pins
from tooling.services.tools import add_tool
from trimfixtures.models import Mask


class Happened:
    """The deeds, by nobody's named hands: what lies before a test."""

    def __getattr__(self, name):
        return partial(getattr(deeds, name), by=None, recorded_by=None)


happened = Happened()


@pytest.fixture
def shop(db):
    return open_works()


@once
def open_works():
    Shop.objects.create(name="Saltbatch Boatworks", time_zone="Europe/Lisbon")
    wax = ReleaseSystem.objects.create(code="WAX")
    ReleaseSystem.objects.create(code="SEMI")
    RecipeVersion.objects.create(
        system=wax, name="Paste wax", family="paste_wax", coats_new=1, coats_again=1, break_in="", pulls_between=3
    )
    mold = add_tool(code="DECK-2A", name="Sea kayak 520, deck", kind=Kind.MOLD, release_system=wax)
    insert = add_tool(code="HATCH7", name="Hatch rim", kind=Kind.INSERT, release_system=wax)
    mask = add_tool(code="COAM-TRIM", name="Coaming, trim mask", kind=Kind.TRIM_MASK)
    happened.install(insert, mold=mold)
    for tool in (mold, insert):
        happened.log_coat(tool)
    part = Part.objects.create(number="SK520-DECK")
    PartRevision.objects.create(part=part, name="Deck", layup_minutes=150, in_mold_hours=24)
    return SimpleNamespace(mold=mold, insert=insert, mask=mask, wax=wax)


@pytest.fixture
def described(shop):
    """Somebody has said how its trim mask sits, so that nothing is to be known of it."""
    return Mask.objects.create(tool=shop.mask, datum="pin and slot")


@pytest.fixture
def send(client):
    """Posts a deed, as its page would: with a token, just now. Returns the answer.

    Where the page shows first what the deed does, it is looked at and written down.
    """

    def post(name, code="DECK-2A", token=None, number=None, **typed):
        where = {"code": code} if number is None else {"code": code, "number": number}
        address, sent = reverse(name, kwargs=where), {"token": str(token or uuid4()), "at": "now", **typed}
        answer = client.post(address, sent)
        form = answer.context.get("form") if answer.status_code == 200 and answer.context else None
        if getattr(form, "would", None) is None or form.errors:
            return answer
        return client.post(address, {**sent, "shown": form.would.key})

    return post


@pytest.fixture
def two(shop, client, station):
    """Two people with PINs, at a station that is signed in."""
    people = [Person.objects.named(name) for name in ("Mara", "Jonas")]
    for person, pin in zip(people, ("8205", "5061"), strict=True):
        pins.set_pin(person, pin=pin)
    client.force_login(station)
    return people


def page_says(answer):
    """What a page says, without its tokens: digits of a PIN can stand in one of those by chance."""
    return re.sub(r"[0-9a-f]{8}(?:-[0-9a-f]{4}){3}-[0-9a-f]{12}", "", answer.text)


def errors(answer):
    """What the page says is wrong, by field."""
    return {name: list(found) for name, found in answer.context["form"].errors.items()}
