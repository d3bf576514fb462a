"""A tool set put together and kept by a lead: what each button leaves behind, and what is refused."""

import pytest

from shared.clock import now
from tests.tooling.views.sets.conftest import SET, press, told, what
from tests.tooling.views.works import do, mold
from tooling.models import Kind, PartChange, SetLine
from tooling.services.parts import add_revision

pytestmark = [pytest.mark.django_db, pytest.mark.both]


def numbered(revision):
    return list(revision.tool_set.in_order().values_list("tool__code", "order"))


def test_a_stranger_is_asked_to_sign_in_and_a_get_does_nothing(client, desk, deck, put):
    put("DECK-2A")
    desk.get(SET, {"do": "confirm_all", "line": "1"})
    assert SetLine.objects.count() == 1
    client.logout()
    assert client.get("/parts/SK520-DECK/set/").url == "/sign-in/?next=/parts/SK520-DECK/set/"


@pytest.mark.parametrize("role", ["reader", "hand", "station"])
def test_nobody_but_a_lead_sees_it_or_changes_it(sign_in, put, deck, role):
    (line,) = put("DECK-2A")
    client = sign_in(role)
    assert client.get(SET).status_code == press(client, f"out.{line.pk}").status_code == 403
    assert what(deck) == ["DECK-2A"]


@pytest.mark.parametrize("typed", ["deck-2a", " DECK-2A ", "OLD/2", "https://shop.example/t/DECK-2A/"])
def test_a_tool_comes_in_by_its_code_an_older_one_or_its_tag(desk, deck, typed):
    tool = mold("DECK-2A", None, pulls=None)
    tool.aliases.create(code="OLD/2")
    assert "DECK-2A is in the set." in told(press(desk, "add", tool=typed), desk)
    line = SetLine.objects.get()
    assert (line.role, line.tool, line.required, line.confirmed) == ("mold", tool, True, True)
    twice = press(desk, "add", tool=typed)
    assert twice.context["add"].errors["tool"] == [
        "DECK-2A is in this set already, where a tool stands once: change the line that is there."
    ]
    assert SetLine.objects.count() == 1


def test_an_unknown_code_names_those_that_are_meant_and_keeps_what_was_typed(desk, deck):
    for code in ("DECK-2A", "DECK-2B"):
        mold(code, None, pulls=None, name="Kayak deck")
    mold("PLUG-2", None, pulls=None, kind=Kind.PLUG, name="Kayak plug")
    for typed in ("DECK2", "kayak"):
        reply = press(desk, "add", tool=typed)
        assert sorted(tool.code for tool in reply.context["add"].near) == ["DECK-2A", "DECK-2B"]
        assert f'value="{typed}"' in reply.text
        assert f"There is no tool “{typed}”. Tap the one that is meant" in reply.text
    assert press(desk, "add", choose="DECK-2B", tool="kayak").status_code == 302
    assert what(deck) == ["DECK-2B"]
    assert "none that looks like it" in press(desk, "add", tool="zzzzz").text


@pytest.mark.parametrize(
    ("typed", "says"),
    [("PLUG-2", "PLUG-2 is a plug: only molds, mold inserts and trim masks"), ("GONE", "GONE is retired. Choose"),
     ("", "Which tool?"), ("\x00", "A sign in it cannot be kept"), ("x" * 301, "At most 300 characters")],
)  # fmt: skip
def test_what_cannot_stand_in_a_set_is_said_at_the_box(desk, deck, typed, says):
    mold("PLUG-2", None, pulls=None, kind=Kind.PLUG)
    do("retire", mold("GONE", None, pulls=None), reason="worn")
    reply = press(desk, "add", tool=typed)
    assert says in reply.context["add"].errors["tool"][0]
    assert not SetLine.objects.exists()


def test_halves_come_in_and_leave_together_and_are_put_back_as_they_were(desk, deck, put):
    put("DECK")
    for code in ("FIN-L", "FIN-R"):
        mold(code, None, pulls=None, matched_set="Fin")
    assert "It comes with FIN-R: they close on one part." in told(press(desk, "add", tool="FIN-L", how="also"), desk)
    page = desk.get(SET).text
    assert "Closes on one part with FIN-L: they come and go together." in page
    press(desk, "hardware", item="clamps")
    right = deck.tool_set.get(tool__code="FIN-R")
    press(desk, f"change.{right.pk}", required="no", order="", instead="", seen="mold FIN-R")
    assert not deck.tool_set.filter(tool__matched_set="Fin", required=True).exists(), "optional together as well"
    gone = press(desk, f"out.{right.pk}")
    shown = desk.get(gone.url)
    assert "FIN-R, FIN-L are out of the set." in shown.text
    assert what(deck) == ["DECK", "clamps"]
    for _twice in range(2):
        press(desk, "put_back", out=shown.context["out"])
    assert what(deck) == ["DECK", "FIN-L", "FIN-R", "clamps"]
    assert deck.tool_set.get(tool__code="FIN-R").pk == right.pk
    assert "out of the set" not in desk.get(gone.url).text


def test_hardware_comes_in_and_is_changed_in_words(desk, deck):
    press(desk, "hardware", item=" 8  bolts")
    line = SetLine.objects.get()
    assert (line.role, line.item) == ("hardware", "8 bolts")
    assert "already" in press(desk, "hardware", item="8 BOLTS").context["hardware"].errors["item"][0]
    assert press(desk, "hardware", item=" ").context["hardware"].errors["item"]
    stands = {"required": "yes", "order": "", "instead": "", "seen": "hardware 8 bolts"}
    assert press(desk, f"change.{line.pk}", **stands, item="10 bolts").status_code == 302
    assert what(deck) == ["10 bolts"]


def test_lines_move_without_dragging_and_twice_is_once(desk, deck, put):
    first, second, third = put("RIM-1", "RIM-2", "RIM-3", kind=Kind.INSERT)
    for _twice in range(2):
        assert press(desk, f"move.{third.pk}.1").url.endswith(f"#line-{third.pk}")
    assert numbered(deck) == [("RIM-3", 1), ("RIM-1", 2), ("RIM-2", 3)]
    deck.tool_set.filter(pk=second.pk).update(order=30)
    press(desk, f"move.{second.pk}.2")
    assert numbered(deck)[1:] == [("RIM-2", 2), ("RIM-1", 30)]
    for nonsense in ("", "x", "-1", "9" * 9):
        press(desk, f"move.{first.pk}.{nonsense}")
    assert what(deck) == ["RIM-3", "RIM-2", "RIM-1"]


def test_what_a_line_stands_in_for_is_chosen_and_moves_with_it(desk, deck, put):
    one, two, other = put("RIM-1", "RIM-2", "RIM-3", kind=Kind.INSERT)
    stands = {"required": "yes", "order": "", "seen": "insert RIM-3"}
    press(desk, f"change.{other.pk}", **stands, instead=str(one.pk))
    assert set(deck.tool_set.filter(alternative="RIM-1").values_list("tool__code", flat=True)) == {"RIM-1", "RIM-3"}
    assert "One of these is enough: RIM-1" in desk.get(SET).text
    press(desk, f"move.{two.pk}.1")
    assert numbered(deck) == [("RIM-2", 1), ("RIM-1", 2), ("RIM-3", 2)]
    stands["seen"] = "insert RIM-3, no. 2, alternative RIM-1"
    press(desk, f"change.{other.pk}", **stands, instead="")
    assert deck.tool_set.get(pk=other.pk).alternative == ""
    assert deck.tool_set.get(pk=one.pk).alternative == "RIM-1", "the word stays"


@pytest.mark.parametrize("instead", ["own", "half", "mask", "99999", "x"])
def test_nothing_stands_in_for_itself_its_half_or_another_use(desk, deck, put, instead):
    (mask,) = put("MASK", kind=Kind.TRIM_MASK)
    for code in ("FIN-L", "FIN-R"):
        mold(code, None, pulls=None, matched_set="Fin")
    press(desk, "add", tool="FIN-L")
    left, right = deck.tool_set.filter(role="mold").order_by("pk")
    chosen = {"own": left.pk, "half": right.pk, "mask": mask.pk}.get(instead, instead)
    reply = press(desk, f"change.{left.pk}", required="no", order="3", instead=str(chosen), seen="mold FIN-L")
    assert reply.context["change"].errors["instead"]
    assert 'value="3"' in reply.text, "what was typed stays"
    assert not deck.tool_set.exclude(alternative="", required=True).exists()


def test_a_new_revision_is_confirmed_one_by_one_or_all_at_once(desk, deck, put, lead):
    put("DECK-2A", "DECK-2B")
    new = add_revision(deck.part, by=lead, at=now(), columns={"revision": "B"}, like=deck)
    page = desk.get("/parts/SK520-DECK/set/")
    assert "2 lines are not confirmed for this revision." in page.text
    first, second = new.tool_set.in_order()
    address = "/parts/SK520-DECK/set/?revision=B"
    assert desk.post(address, {"do": f"confirm.{first.pk}"}).url == f"{address}#line-{first.pk}"
    assert [line.confirmed for line in new.tool_set.in_order()] == [True, False]
    desk.post(address, {"do": "confirm_all", "open": ["7", "x"]})
    assert new.tool_set.filter(confirmed=False).count() == 1, "only what was on the page"
    for _twice in range(2):
        desk.post(address, {"do": "confirm_all", "open": [str(second.pk)]})
    assert not new.tool_set.filter(confirmed=False).exists()
    assert PartChange.objects.filter(revision=new, before__endswith="not confirmed").count() == 2
