"""The page of a tool set where somebody else was quicker, the address says nonsense, or the set is still empty."""

import pytest

from shared.clock import now
from tests.tooling.views.sets.conftest import SET, press, told, what
from tests.tooling.views.works import ago, do, mold
from tooling.models import Kind, Part, PartRevision, SetLine
from tooling.services import tool_sets

pytestmark = pytest.mark.django_db


def test_two_people_at_one_line_are_told(desk, put, lead):
    (line,) = put("RIM", kind=Kind.INSERT)
    form = desk.get(f"{SET}&line={line.pk}").context["change"]
    stands = {name: form[name].value() or "" for name in form.fields}
    tool_sets.change_line(line, columns={"order": 5}, by=lead, at=now())
    reply = press(desk, f"change.{line.pk}", **{**stands, "required": "no", "order": "2"})
    assert "Somebody changed this line meanwhile." in reply.text
    line.refresh_from_db()
    assert (line.order, line.required) == (5, True)
    assert reply.context["change"]["order"].value() == "2"


def test_a_line_that_is_gone_is_said(desk, put):
    (line,) = put("RIM", kind=Kind.INSERT)
    press(desk, f"out.{line.pk}")
    for deed in ("out", "confirm", "change", "move"):
        assert "That line is not in this set any more." in told(press(desk, f"{deed}.{line.pk}"), desk)
    gone = desk.get(f"{SET}&line={line.pk}")
    assert gone.status_code == 404
    assert "That line is not in this set any more." in gone.text


@pytest.mark.parametrize("button", ["", "x", "add.1", "out", "out.", "out.x", "confirm.-1", "change.\x00", "." * 50])
def test_nonsense_is_no_button(desk, put, deck, button):
    put("RIM", kind=Kind.INSERT)
    assert press(desk, button).status_code == 302
    assert what(deck) == ["RIM"]


def test_nonsense_in_the_address_is_said(desk, deck):
    missing = desk.get("/parts/SK520-DECK/set/", {"revision": "Z"})
    assert "SK520-DECK has no revision Z. This is the newest: A." in told(missing, desk)
    sent = desk.post("/parts/SK520-DECK/set/?revision=Z", {"do": "hardware", "item": "bolts"})
    assert (sent.status_code, SetLine.objects.count()) == (302, 0)
    assert desk.get("/parts/sk520-deck/set/?revision=A").url == SET
    assert desk.get("/parts/SK250-DEKC/set/").context["near"] == ["SK520-DECK"]
    for strange in ("?out=x", "?line=", "?revision=%00", "?add=%00"):
        assert desk.get(f"/parts/SK520-DECK/set/{strange}").status_code in (200, 302, 404)
    assert "There is nothing to put back." in told(press(desk, "put_back", out="x:y:z"), desk)
    Part.objects.create(number="BARE")
    assert desk.get("/parts/BARE/set/").url == "/parts/BARE/revise/"


def test_every_number_has_a_set_of_its_own(desk):
    part = Part.objects.create(number="X/set")
    PartRevision.objects.create(part=part, name="Deck")
    address = desk.get("/parts/~X~2Fset/set/")
    assert "Tool set of X/set" in address.text
    assert "<h1>X/set</h1>" in desk.get("/parts/~X~2Fset/").text


def test_an_empty_set_begins_with_another_one(desk, put, deck):
    put("DECK-2A", "DECK-2B")
    other = Part.objects.create(number="SK440")
    new = PartRevision.objects.create(part=other, revision="1", name="Deck")
    at = "/parts/SK440/set/?revision=1"
    for typed, field, says in (
        ({"part": "SK52-DECK"}, "part", "There is no part SK52-DECK. Is it SK520-DECK?"),
        ({"part": "SK520-DECK", "of_revision": "Q"}, "of_revision", "SK520-DECK has no revision Q."),
        ({"part": "SK440"}, "part", "SK440 1 has no tool set to begin with."),
        ({"part": ""}, "part", "Which part?"),
    ):
        reply = desk.post(at, {"do": "start", **typed})
        assert says in reply.context["start"].errors[field][0]
        assert f'value="{typed["part"]}"' in reply.text or not typed["part"]
    assert "Confirm what is right for this revision" in told(
        desk.post(at, {"do": "start", "part": "sk520-deck", "of_revision": "a"}), desk
    )
    assert (what(new), new.tool_set.filter(confirmed=True).count()) == (["DECK-2A", "DECK-2B"], 0)
    again = desk.post(at, {"do": "start", "part": "SK520-DECK"})
    assert "Something is in this set already" in told(again, desk)
    assert new.tool_set.count() == 2
    assert "begun with the set of SK520-DECK A" in desk.get("/parts/SK440/?made=yes").text


def test_tools_that_made_the_part_are_offered_for_one_tap(desk, put, morning, deck):
    put("DECK-2A")
    for code in ("DECK-2B", "GONE"):
        tool = mold(code, morning)
        do("log_pull", tool, at=ago(hours=1), part="sk520-deck")
    do("retire", tool, reason="worn")
    assert [tool.code for tool in desk.get(SET).context["offered"]] == ["DECK-2B"]


@pytest.mark.parametrize("count", [1, 30])
def test_as_many_queries_for_thirty_lines_as_for_one(desk, put, morning, count, django_assert_num_queries):
    put(*(f"RIM-{n}" for n in range(count)), kind=Kind.INSERT)
    do("log_pull", mold("DECK-2B", morning), at=ago(hours=1), part="SK520-DECK")
    with django_assert_num_queries(12):
        desk.get(SET)
