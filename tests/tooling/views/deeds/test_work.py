"""Other deeds, as a table: what is sent, what it writes, and what is refused with all that was typed."""

from uuid import uuid4

import pytest
from django.urls import reverse

from tests.tooling.views.deeds.conftest import errors, happened
from tooling.models import Entry
from tooling.services.recheck import differences
from tooling.services.tools import add_tool, rules

pytestmark = pytest.mark.django_db
HAND, LEAD = "hand", "lead"
TOO_LONG = {"note": "by the bow", "at": "exact", "at_exact": "never"}
# name of the address: the tool, who, what is sent, the kind it writes, what it says, what is sent amiss and its field
DEEDS = {
    "strip": ("DECK-2A", HAND, {"area": "whole"}, "strip", {"area": "whole"}, {"area": "half"}, "area"),
    "repair": (
        "DECK-2A", HAND, {"area": "spot", "stands": "60", "lot": "G-2"}, "repair",
        {"area": "spot", "value": "60", "unit": "°C", "quantity": "service temperature", "lot": "G-2"},
        {"stands": "warm", "lot": "G-2"}, "stands",
    ),
    "polish": ("HATCH7", HAND, {"area": "flange"}, "polish", {"area": "flange"}, {"area": "x"}, "area"),
    "resurfaced": ("DECK-2A", HAND, {}, "resurfaced", {}, TOO_LONG, "at_exact"),
    "clean": ("DECK-2A", HAND, {"using": "soap"}, "clean", {"instrument": "soap"}, {"note": "dusty"}, "using"),
    "build_up": ("DECK-2A", HAND, {}, "build_up", {}, TOO_LONG, "at_exact"),
    "release_check": (
        "DECK-2A", HAND, {"using": "water", "passed": "no"}, "release_check",
        {"instrument": "water", "passed": False}, {"using": "tape", "note": "at the keel"}, "passed",
    ),
    "wax_wanted": ("DECK-2A", HAND, {"reason": "dull"}, "wax_wanted", {"reason": "dull"}, TOO_LONG, "at_exact"),
    "installed": ("DECK-2A", HAND, {"typed": "spare"}, "installed", {}, {"typed": "COAM-TRIM"}, "typed"),
    "removed": ("DECK-2A", HAND, {"which": "HATCH7"}, "removed", {}, {"typed": "NOBODY"}, "typed"),
    "note": ("COAM-TRIM", HAND, {"note": "new trolley"}, "note", {"note": "new trolley"}, {"note": " "}, "note"),
    "reading": (
        "DECK-2A", HAND,
        {"quantity": "vacuum drop", "value_1": "3,5", "unit_vacuum_drop": "mbar", "minutes": "10"}, "reading",
        {"quantity": "vacuum drop", "value": "3.5", "unit": "mbar", "minutes": "10"},
        {"quantity": "vacuum drop", "value_1": "3.5", "unit_vacuum_drop": "mbar"}, "minutes",
    ),
    "interval": ("DECK-2A", LEAD, {"count": "2", "part": "X"}, "interval", {"count": 2, "part": "X"},
                 {"count": "0", "part": "X-9"}, "count"),
}  # fmt: skip
each_deed = pytest.mark.parametrize("name", DEEDS)


@pytest.fixture(autouse=True)
def spare(shop):
    insert = add_tool(code="SPARE", name="Hatch rim, spare", kind="insert", release_system=shop.wax)
    happened.strip(insert)
    happened.log_coat(insert)
    return insert


@pytest.fixture
def sign_in(client, request):
    return lambda name: client.force_login(request.getfixturevalue(DEEDS[name][1]))


@pytest.fixture
def send(send, lead):
    """A lead says whose hands it was; of a hand it is not asked."""
    return lambda name, **typed: send(name, **({"by": lead.pk} if DEEDS[name][1] == LEAD else {}), **typed)


def address(name):
    return reverse(name, args=[DEEDS[name][0]])


def said(entry):
    return {**entry.payload, "area": entry.area, "count": entry.count, "part": entry.part}


@each_deed
def test_opening_writes_nothing_and_only_those_who_may_open(client, sign_in, reader, name):
    before = Entry.objects.count()
    assert client.get(address(name)).url.startswith("/sign-in/")
    client.force_login(reader)
    assert (client.get(address(name)).status_code, client.post(address(name)).status_code) == (403, 403)
    sign_in(name)
    page = client.get(address(name))
    assert (page.status_code, page.text.count("<h1")) == (200, 1)
    assert 'id="id_at"' in page.text
    assert Entry.objects.count() == before


@each_deed
def test_it_is_written_once_however_often_it_is_sent(client, sign_in, send, name):
    code, _who, typed, kind, says, _amiss, _field = DEEDS[name]
    sign_in(name)
    token, before = uuid4(), Entry.objects.count()
    first, again = (send(name, code=code, token=token, **typed) for _ in range(2))
    assert (first.status_code, again.status_code) == (302, 302)
    assert Entry.objects.count() == before + 1
    entry = Entry.objects.last()
    assert entry.kind == kind
    assert said(entry).items() >= says.items()
    assert not list(differences(rules()))


@each_deed
def test_what_is_amiss_is_said_at_its_field_and_keeps_the_rest(client, sign_in, send, name):
    code, _who, _typed, _kind, _says, amiss, field = DEEDS[name]
    sign_in(name)
    before = Entry.objects.count()
    answer = send(name, code=code, **amiss)
    assert field in errors(answer)
    for value in {text for name, text in amiss.items() if name in ("note", "lot", "part")} - {" "}:
        assert value in answer.text
    assert Entry.objects.count() == before


@each_deed
def test_nonsense_in_a_field_is_answered(client, sign_in, name):
    sign_in(name)
    fields = sorted(client.get(address(name)).context["form"].fields)
    for odd in ("9" * 5000, "\x00", "💥" * 50, "9999-12-31T23:59"):
        answer = client.post(address(name), {**dict.fromkeys(fields, odd), "token": str(uuid4())})
        assert answer.status_code in (200, 302)
    for field in fields:
        typed = {**DEEDS[name][2], "at": "now", "token": str(uuid4()), field: "x" * 10_000}
        assert client.post(address(name), typed).status_code in (200, 302)


def test_a_station_is_asked_whose_hands_it_was(client, send, station):
    client.force_login(station)
    for name in ("repair", "clean", "installed", "reading", "note"):
        assert "by" in errors(send(name, **DEEDS[name][2]))


@pytest.mark.parametrize("name", ["interval", "release_system"])
def test_what_a_lead_decides_is_not_for_a_hand(client, shop, hand, name):
    client.force_login(hand)
    assert client.get(reverse(name, args=["DECK-2A"])).status_code == 403
    assert client.post(reverse(name, args=["DECK-2A"]), {"count": "2"}).status_code == 403


@pytest.mark.parametrize(
    ("name", "codes"),
    [("repair", ["COAM-TRIM"]), ("clean", ["COAM-TRIM"]), ("installed", ["COAM-TRIM"]), ("interval", ["COAM-TRIM"])],
)
def test_what_is_not_for_its_kind_is_not_there(client, lead, name, codes):
    client.force_login(lead)
    for code in codes:
        assert client.get(reverse(name, args=[code])).status_code == 404


def test_the_late_chips_set_the_time_of_each(client, send, hand):
    client.force_login(hand)
    send("polish", area="spot", at="exact", at_exact="2026-01-05T09:30")
    assert f"{Entry.objects.last().at:%Y-%m-%d %H:%M}" == "2026-01-05 09:30"


def test_the_fold_of_the_tool_leads_to_each_and_to_nothing_that_is_not_there(client, lead, shop):
    client.force_login(lead)
    for code in ("DECK-2A", "HATCH7", "SPARE", "COAM-TRIM"):
        page = client.get(f"/tools/{code}/")
        for group in page.context["others"]:
            for deed in group.deeds:
                assert client.get(reverse(deed.name, args=[code])).status_code == 200
    happened.remove(shop.insert)
    assert "/tools/DECK-2A/removed/" not in client.get("/tools/DECK-2A/").text
