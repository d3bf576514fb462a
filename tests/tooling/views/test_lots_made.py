"""The parts of a lot: those that met it as the last coat on, those under later coats, and where it lay."""

from uuid import uuid4

import pytest
from django.urls import reverse

from tests.fixtures.once import once
from tests.tooling.views import works
from tests.tooling.views.serial_rows import PART, works_with_serials
from tooling.models import ContainmentMark, Entry, Kind, ReleaseSystem, Tool
from tooling.selectors.containment.lots import lots_used
from tooling.selectors.containment.made_since import lot_made
from tooling.words.lots import counted_as, lay_on, left_out


@pytest.fixture
def shop(morning):
    return told_works()


@once
def told_works():
    return works_with_serials(ReleaseSystem.objects.get())


def key(serial):
    """What the form calls a part: by its lay-up."""
    return f"{Entry.objects.get(kind='lay_up', tool__code='DECK-2A', serial=serial).pk}.{serial}"


def words(reply):
    return " ".join(reply.text.split())


def test_a_lot_lies_under_further_coats(shop, sign_in):
    works.do("log_coat", shop.deck, at=works.ago(days=3, hours=12), lot="W99")
    client = sign_in("hand")
    address = reverse("lot_made", args=["w14"])
    text = words(client.get(address, {"coat": "all"}))
    assert "Parts made with lot W14" in text
    assert "5 parts are in doubt" in text
    assert "coat, Mon 4 May 07:40; nothing says that it is off." in text
    client.post(address, {"token": uuid4(), "parts": [key("0171")], "found": "good"})
    mark = ContainmentMark.objects.get()
    assert (mark.of_lot, mark.of_entry) == ("W14", None)
    assert "1 of 5 looked at" in words(client.get(address))
    assert client.get(reverse("lot_made", args=["no such"])).status_code == 404


def test_those_that_met_it_as_the_last_coat_come_first(shop, sign_in):
    """Another lot went on before the two of 0174 were made."""
    works.do("log_coat", shop.deck, at=works.ago(days=2, hours=12), lot="W99")
    client, address = sign_in("hand"), reverse("lot_made", args=["W14"])
    last, under = (client.get(address, {"coat": coat} if coat else {}) for coat in ("", "under"))
    for said in ("Last coat on it: 3", "Under later coats: 2", "All: 5", "Nobody has looked at one of these 3 yet."):
        assert said in words(last), said
    assert [line.one.number for line in last.context["lines"]] == ["0173", "0172", "0171"]
    assert [line.one.number for line in under.context["lines"]] == ["0174", ""]
    client.post(address, {"token": uuid4(), "parts": [key("0173")], "found": "good"})
    assert "1 of 3 looked at, all of these good." in words(client.get(address))


def test_the_table_says_which_coat_it_met(shop, sign_in):
    works.do("log_coat", shop.deck, at=works.ago(days=2, hours=12), lot="W99")
    rows = sign_in("reader").get(reverse("lot_made_table", args=["W14"])).getvalue().decode().splitlines()
    assert [row.split(",")[-1] for row in rows[1:]] == ["last on"] * 3 + ["under later coats"] * 2
    assert "Sat 9 May 2026 07:40" in rows[1]


def test_where_it_lay_is_a_line_a_tool(shop):
    works.do("log_coat", shop.deck, at=works.ago(days=2), lot="W14")
    found = lot_made("W14", works.NOW)
    said = "coat, 2 times from Mon 4 May 07:40 to Sun 10 May 07:40; nothing says that it is off."
    assert list(lay_on(found, works.NOW)) == [("DECK-2A", said)]
    works.do("strip", shop.deck, at=works.ago(hours=20), area="whole")
    text = " ".join(said for _tool, said in lay_on(lot_made("W14", works.NOW), works.NOW))
    assert text.endswith("; taken off Mon 11 May 11:40.")


def test_a_sheet_of_some_says_what_it_leaves_out(shop):
    works.do("log_coat", shop.deck, at=works.ago(days=2, hours=12), lot="W99")
    found = lot_made("W14", works.NOW)
    assert left_out(found, found) == ""
    assert left_out(found, found.only(False)).endswith("it has 3 of 5.")
    assert "those under later coats alone: 2 of 5" in left_out(found, found.only(True))


def test_the_lots_that_were_used(shop, sign_in):
    client = sign_in("reader")
    assert reverse("lot_made", args=["W15"]) in client.get(reverse("lots")).text
    text = words(client.get(reverse("lots"), {"q": "15"}))
    assert "W15" in text
    assert "W14" not in text
    assert "coat; on 1 tool" in text
    assert "No entry names a lot with “99” in it." in client.get(reverse("lots"), {"q": "99"}).text


def test_a_lot_that_looks_like_a_number_stays_as_it_is(shop):
    works.do("log_coat", shop.other, at=works.ago(days=1), lot="12.50")
    assert [one.lot for one in lots_used("12.5")] == ["12.50"]
    assert lot_made("12.5", works.NOW) is None


def test_two_halves_make_one_part(shop):
    Tool.objects.filter(pk__in=[shop.deck.pk, shop.other.pk]).update(matched_set="DECK 2")
    works.do("log_coat", shop.other, at=works.ago(days=7), lot="W14")
    works.do("log_pull", shop.other, at=works.ago(days=3), part=PART, serial="0173", came_off="free")
    found = lot_made("W14", works.NOW)
    line = next(one for one in found.lines if one.number == "0173")
    assert [part.tool.code for part in line.parts] == ["DECK-2B", "DECK-2A"]
    assert found.count == 5
    assert "1 of them is out of two halves" in " ".join(counted_as(found))


def test_what_came_off_a_plug_is_counted_as_a_tool(shop):
    plug = works.mold("HULL-PLUG", None, pulls=None, kind=Kind.PLUG)
    works.do("log_coat", plug, at=works.ago(days=2), lot="W14")
    works.do("log_pull", plug, at=works.ago(days=1), part="DECK-2A", came_off="free")
    assert list(counted_as(lot_made("W14", works.NOW))) == ["1 of them came off a plug: a tool, not a part."]
