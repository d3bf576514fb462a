"""Start of lay-up of one revision of a part that has several: judged by its own tool set, and kept with the entry."""

import pytest

from shared.clock import now
from tests.tooling.views.deeds.conftest import happened
from tooling.models import Entry, Part, PartRevision, SetLine, Wanted
from tooling.services import tool_sets
from tooling.services.deeds.undo import correct
from tooling.services.deeds.uses import NewlyAgainst

pytestmark = pytest.mark.django_db
PAGE = "/tools/DECK-2A/lay-up/?part=SK520-DECK"


@pytest.fixture
def old(client, hand, shop):
    """Revision B, right; C after it has taken the set over, and nobody has confirmed that."""
    client.force_login(hand)
    part = Part.objects.get()
    part.revisions.update(revision="B")
    old = part.revisions.get()
    for role, tool in (("mold", shop.mold), ("insert", shop.insert)):
        SetLine.objects.create(revision=old, role=role, tool=tool)
    new = PartRevision.objects.create(part=part, revision="C", name="Deck", layup_minutes=60, in_mold_hours=2)
    tool_sets.start_from(new, old)
    return old


def chosen(page):
    return [one.revision for one in page.context["form"].revisions], page.context["form"].asked_revision.revision


def test_the_page_of_an_older_revision_leads_to_its_own_go(client, old):
    Wanted.objects.create(part=old.part, revision=old, count=1, at=now())
    for opened in ("/parts/SK520-DECK/?revision=B", "/wanted/"):
        assert f"{PAGE}&amp;revision=B" in client.get(opened).text
    page = client.get(f"{PAGE}&revision=B")
    assert (chosen(page), page.context["stops"]) == ((["C", "B"], "B"), [])
    assert f'value="{old.pk}" checked' in page.text
    newest = client.get(PAGE)
    assert (chosen(newest)[1], [one.code for one in newest.context["stops"]]) == ("C", ["not_confirmed"])


def test_what_is_started_keeps_its_revision(client, send, old):
    answer = send("lay_up", part_typed="SK520-DECK", revision=str(old.pk))
    assert answer.status_code == 302
    entry = Entry.objects.get(kind="lay_up")
    assert (entry.payload["revision"], (entry.earliest_pull - entry.at).total_seconds()) == ("B", 26.5 * 3600)
    assert "Part SK520-DECK, revision B." in client.get("/tools/DECK-2A/").text
    other = correct(entry, reason="slip", changes={"part": "ODD"}, recorded_by=None)
    assert "revision" not in other.payload


def test_it_is_asked_again_under_the_locks_of_that_revision(old, shop):
    about = {"part": "SK520-DECK", "seen": ()}
    with pytest.raises(NewlyAgainst):
        happened.lay_up(shop.mold, **about)
    assert "against" not in happened.lay_up(shop.mold, revision=old, **about).payload
