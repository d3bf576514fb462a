"""A part with a revision whose tool set a lead edits."""

import pytest

from shared.clock import now
from tests.tooling.views.works import mold
from tooling.models import Kind, Part, PartRevision
from tooling.services import tool_sets

SET = "/parts/SK520-DECK/set/?revision=A"


@pytest.fixture
def deck(morning):
    """A revision whose set is empty."""
    part = Part.objects.create(number="SK520-DECK")
    return PartRevision.objects.create(part=part, revision="A", name="Sea kayak 520, deck")


@pytest.fixture
def desk(sign_in, deck):
    return sign_in("lead")


@pytest.fixture
def put(deck, lead):
    """Puts tools into the set by their kinds."""

    def _put(*codes, kind=Kind.MOLD, **columns):
        made = [mold(code, None, pulls=None, kind=kind, name=f"Deck {code.lower()}") for code in codes]
        return [tool_sets.add_line(deck, kind, tool=tool, by=lead, at=now(), **columns)[0] for tool in made]

    return _put


def what(revision):
    return [line.what for line in revision.tool_set.in_order()]


def told(reply, client):
    """The page that a deed leads to."""
    return " ".join(client.get(reply.url).text.split())


def press(client, do, **typed):
    return client.post(SET, {"do": do, **typed})
