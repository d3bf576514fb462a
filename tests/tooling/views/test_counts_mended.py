"""What a count asks and mends: a tag nobody knows, an insert out of its mold, much not met, two who count at once."""

import pytest

from tests.tooling.views.test_place_counts import hand_client as hand_client
from tests.tooling.views.test_place_counts import rack as rack
from tests.tooling.views.test_place_counts import scan, tap
from tests.tooling.views.works import ago, do, mold
from tooling.models import CountMark, PlaceCount

pytestmark = pytest.mark.django_db


def test_a_tag_that_nobody_knows_is_on_the_strip_with_the_way_back_and_so_is_the_tool_before(hand_client):
    address = scan(hand_client, "<b>&", scan(hand_client, "DECK").url).url
    page = hand_client.get(address)
    mark = CountMark.objects.get(found="unknown")
    assert page.context["unknown"] == mark
    assert "Nobody knows “&lt;b&gt;&amp;”." in page.text
    assert page.context["seen_words"].startswith("Seen: DECK")
    assert hand_client.get(tap(hand_client, f"forget.{mark.pk}", address).url).context["unknown"] is None


def test_what_is_in_a_mold_by_its_history_and_met_is_taken_out_with_one_tap(hand_client, rack, morning):
    rim = mold("RIM", morning, kind="insert", pulls=None, place=rack.first)
    do("install", rim, mold=rack.first.at_home.get(tool__code="HULL").tool, at=ago(hours=1))
    page = hand_client.get(scan(hand_client, "RIM", "/counts/1/?at=B-2").url)
    assert [row[1] for row in page.context["lines"].in_mold] == ["By its history it is in HULL."]
    assert hand_client.get(tap(hand_client, "out.RIM").url).context["lines"].in_mold == []
    rim.summary.refresh_from_db()
    assert (rim.summary.in_mold_of, rim.summary.lies) == (None, rack.second.pk)
    assert "in no mold any more" in hand_client.get(tap(hand_client, "out.RIM").url).text


def test_much_that_was_not_met_and_what_another_one_began_are_asked_about_once(hand_client, rack, lead):
    scan(hand_client, "DECK")
    page = hand_client.get(tap(hand_client, "end").url.removesuffix("#end"))
    assert "Two were not met and are then “not home”, as the morning board says: HULL, SEAT." in page.text
    assert "was the count broken off?" in page.text
    for other in ("end.1", "end"):
        tap(hand_client, other)
        assert PlaceCount.objects.get().ended_at is None
    PlaceCount.objects.update(begun_by=lead)
    page = hand_client.get(tap(hand_client, "give-up").url.removesuffix("#end"))
    assert f"{lead.name} began this count of Rack B." in page.text
    tap(hand_client, "end.2")
    assert PlaceCount.objects.get().ended_at is not None


def test_what_somebody_else_has_rubbed_out_meanwhile_is_said_in_words(hand_client):
    scan(hand_client, "old-1")
    mark = CountMark.objects.get()
    tap(hand_client, f"forget.{mark.pk}")
    for do_ in (f"aside.{mark.pk}", f"again.{mark.pk}", "aside.x"):
        assert "somebody has rubbed it out" in hand_client.get(tap(hand_client, do_).url).text
    assert "There is no tool NONE any more." in hand_client.get(tap(hand_client, "missing.NONE").url).text
