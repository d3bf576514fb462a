"""Every reason: brought about, linked to where it is mended, mended there, and at a past moment as it was then."""

import ast
from datetime import timedelta

import pytest

from shared.clock import now
from tests.tooling.selectors.mending import TYPED
from tests.tooling.selectors.mends import MENDS
from tests.tooling.views.deeds.conftest import described as described
from tests.tooling.views.deeds.conftest import happened
from tests.tooling.views.deeds.conftest import shop as shop
from tests.trimfixtures.selectors import mends  # noqa: F401  (tells the stories of its own reasons)
from tooling.calc.status import ORDER
from tooling.models import Part, Place, SetLine, Tool
from tooling.selectors.usable.answer import reasons_of
from tooling.selectors.usable.asked import Asked
from tooling.selectors.usable.surfaces import USABLE
from tooling.words.usable import AGAINST

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("described")]


@pytest.fixture
def story(shop, lead):
    """The shop, and the tool set of its part; the trim mask lies at home."""
    shop.lead, shop.revision = lead, Part.objects.get().revisions.select_related("part").get()
    shop.rack = Place.objects.create(code="R", name="Rack")
    happened.move(shop.mask, place=shop.rack, home=True)
    for role, tool in (("mold", shop.mold), ("insert", shop.insert), ("trim_mask", shop.mask)):
        SetLine.objects.create(revision=shop.revision, role=role, tool=tool)
    return shop


def found(story, at=None):
    """The reasons against the set by their codes."""
    story.revision.refresh_from_db()
    tools = Tool.objects.filter(in_sets__revision=story.revision)
    about = {"part": story.revision.part.number, "revision": story.revision, "gathering": True}
    asked = Asked(tools, at or now() + timedelta(milliseconds=1), **about)
    return {one.code: one for of in reasons_of(asked).values() for one in of}


@pytest.mark.parametrize("code", MENDS)
def test_it_stops_or_warns_until_it_is_mended(story, client, hand, code):
    before, deeds = now(), MENDS[code](story)
    assert code not in found(story)
    next(deeds)
    reason, then = found(story)[code], now()
    assert reason.stops is (code in AGAINST)
    assert reason.text.endswith(".") or code == "told_to_lead"
    leads_there(client, reason, story.lead, hand)
    later = next(deeds, None) or timedelta(milliseconds=1)
    assert code not in found(story, now() + later)
    if code not in TYPED:
        assert code in found(story, then)
        assert code not in found(story, before)


# Waiting alone mends these; the other has no remedy: it is to know.
WITHOUT_A_DEED = {"curing", "film_drying", "vacuum_drop"}


def leads_there(client, reason, lead, hand):
    """Whoever may mend it gets to where it is mended."""
    assert bool(reason.address) is (reason.code not in WITHOUT_A_DEED)
    assert reason.mend or not reason.stops
    if reason.address:
        client.force_login(lead if reason.deed.is_a_leads else hand)
        assert client.get(reason.address).status_code == 200


def test_every_code_has_what_mends_it_and_stands_in_the_readme(settings):
    codes = set(ORDER) - USABLE | AGAINST.keys() | set(written(settings.BASE_DIR))
    assert codes == MENDS.keys()
    readme = (settings.BASE_DIR / "README.md").read_text()
    assert not [code for code in codes if f"`{code}`" not in readme]


def written(base):
    """The codes that any family gives its reasons."""
    for app in ("tooling", "trimfixtures"):
        for path in (base / app).rglob("*.py"):
            for node in ast.walk(ast.parse(path.read_text())):
                named = isinstance(node, ast.Call) and getattr(node.func, "id", "") in ("Reason", "_hot")
                if named and node.args and isinstance(node.args[0], ast.Constant):
                    yield node.args[0].value
