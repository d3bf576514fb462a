"""Cutters and guide bushings: the library, one of it, a new one, one tap of any hand, and its way back."""

import re
from datetime import date, timedelta
from decimal import Decimal

import pytest
import time_machine
from django.db import connection

from shared.units import UNITS, read
from tests.tooling.views.works import NOW, ago, mold
from trimfixtures.models import Cutter, Feature, Mask
from trimfixtures.selectors.cutters import Use, uses_of
from trimfixtures.services.cutters import add_cutter
from trimfixtures.services.deeds import log_use

pytestmark = pytest.mark.django_db
LIST, ONE = "/cutters/", "/cutters/R6/"


@pytest.fixture
def r6(morning, lead):
    return written(lead, "R6", nominal_mm=read("6", UNITS["mm"]), look_after_m=Decimal(30))


def written(lead, code, kind="cutter", **columns):
    return add_cutter(by=lead, at=ago(days=30), code=code, kind=kind, **columns)


def trim_mask(code, **cut):
    tool = mold(code, None, kind="trim_mask", pulls=None)
    if cut:
        Feature.objects.create(mask=Mask.objects.create(tool=tool), kind="edge", method="bearing", **cut)
    return tool


def used(tool, lead, **facts):
    return log_use(tool, by=lead, recorded_by=lead, **{"at": ago(days=1), "cutter": "R6", **facts})


def words(reply):
    return " ".join(re.sub(r"<[^>]+>", " ", reply.text).split())


def test_the_list_says_size_wear_metres_and_what_takes_each(sign_in, lead, r6):
    tool = trim_mask("RIM", cutter=r6)
    Cutter.objects.update(measured_mm="5.93")
    used(tool, lead, metres=Decimal("5.4"), count=2)
    used(tool, lead, metres=Decimal(26), cutter="D8, r6")
    said = words(sign_in("reader").get(LIST))
    assert "Here. 6 mm, measures 5.93 mm: 0.07 mm under." in said
    assert "Plug out before a cutter or guide bushing is changed or measured" in said
    assert "31 m in 3 parts. Look at it: the shop does so after 30 m. Taken by RIM ." in said
    assert "Worn R6" not in said  # a reader taps nothing


def test_metres_count_since_it_was_fresh_and_of_what_stands(sign_in, lead, r6):
    tool = trim_mask("RIM")
    Cutter.objects.update(fresh_on=date(2026, 5, 10))
    used(tool, lead, metres=Decimal(5), at=ago(days=4))
    used(tool, lead, metres=Decimal("7.5"))
    said = words(sign_in("hand").get(ONE))
    assert "Here. 7.5 m in 1 part since Sun." in said
    assert "A chipped, cracked or worn one is not used." in said
    assert "1 part, 7.5 m · no cut of it takes this one any more" in said
    assert "by the cuts as they are now" in said


def test_several_that_cut_one_part_share_its_metres_as_their_cuts_do(sign_in, lead, r6):
    d8 = written(lead, "D8", nominal_mm=Decimal(8))
    tool = trim_mask("RIM", cutter=r6, length_mm=Decimal(900))
    mask = tool.mask
    Feature.objects.create(mask=mask, kind="slot", method="knife", cutter=d8, length_mm=Decimal(200), width_mm=8)
    Feature.objects.create(mask=mask, kind="hole", method="drill", cutter=written(lead, "D5"), width_mm=5)
    Feature.objects.filter(kind="edge").update(bushing=written(lead, "GB", kind="bushing"))
    used(tool, lead, metres=Decimal(11), cutter="R6,D8,D5")  # 900 mm of the edge, 192 mm of a slot, no way of a drill
    used(tool, lead, metres=Decimal(2), cutter="D8")
    edge, slot = (Decimal(11 * mm) / 1092 for mm in (900, 192))
    cut = uses_of(["R6", "GB", "D8", "D5", "NONE"], NOW)
    far = {
        code: (sum(use.metres for use in uses.values()), sum(use.parts for use in uses.values()))
        for code, uses in cut.items()
    }
    expected = {"R6": (edge, 1), "GB": (edge, 1), "D8": (slot + 2, 2), "D5": (0, 1), "NONE": (0, 0)}
    assert {code: (round(way, 3), parts) for code, (way, parts) in far.items()} == {
        code: (round(way, 3), parts) for code, (way, parts) in expected.items()
    }


def test_in_feet_and_inches(sign_in, lead, r6):
    used(trim_mask("RIM"), lead, metres=Decimal("30.48"))
    Cutter.objects.update(nominal_mm="12.7", as_typed={"nominal_mm": ["1/2", "in"]})
    said = words(sign_in("lead", units="us").get(LIST))
    assert "1/2 in, never measured" in said
    assert "98.4 ft in 1 part" in said  # 30 m, said without its centimetres


def test_one_tap_of_a_hand_and_its_way_back(sign_in, hand, r6):
    client = sign_in("hand")
    reply = client.post(ONE, {"do": "gone", "then": "list"}, follow=True)
    assert "R6 is said to be gone." in words(reply)
    assert "Get one: R6 (gone)" in words(reply)
    assert Cutter.objects.get().state == "gone"
    assert [(one.who, one.before, one.after) for one in r6.changes.filter(field="state")] == [(hand, "here", "gone")]
    back = {"do": "back", "then": "list", "was": re.search(r'name="was" value="([^"]+)"', reply.text)[1]}
    assert "R6 stands as before." in words(client.post(ONE, back, follow=True))
    assert Cutter.objects.get().state == "here"
    assert "Too late to take that back" in words(client.post(ONE, back, follow=True))


def test_a_fresh_one_counts_anew_and_the_way_back_has_the_old_size(sign_in, r6):
    Cutter.objects.update(state="worn", measured_mm="5.9", as_typed={"measured_mm": ["5.9", "mm"]})
    client = sign_in("hand")
    reply = client.post(ONE, {"do": "fresh"}, follow=True)
    row = Cutter.objects.get()
    assert (row.state, row.fresh_on, row.measured_mm) == ("here", NOW.date(), None)
    was = re.search(r'name="was" value="([^"]+)"', reply.text)[1]
    with time_machine.travel(NOW + timedelta(minutes=6), tick=False):
        client.post(ONE, {"do": "back", "was": was})
    assert Cutter.objects.get().state == "here"  # too late
    client.post(ONE, {"do": "back", "was": was})
    row = Cutter.objects.get()
    assert (row.state, row.fresh_on, row.measured_mm) == ("worn", None, Decimal("5.9"))


def test_a_hand_measures_and_what_is_no_number_stays_typed(sign_in, r6):
    client = sign_in("hand")
    reply = client.post(ONE, {"do": "worn", "measured_mm": "five"})
    assert "“five” is no number" in words(reply)
    assert 'value="five"' in reply.text
    assert Cutter.objects.get().state == "here"
    seen = client.get(ONE).context["hand"].initial["seen"]
    client.post(ONE, {"do": "worn", "measured_mm": "5,88", "seen": seen})
    assert (Cutter.objects.get().measured_mm, Cutter.objects.get().state) == (Decimal("5.88"), "worn")
    assert "That button is none" in words(client.post(ONE, {"do": "melt"}))


def test_a_station_asks_whose_hands(sign_in, hand, r6):
    client = sign_in("station")
    assert 'name="do"' not in client.get(LIST).text
    assert "Whose hands were it?" in words(client.post(ONE, {"do": "gone", "measured_mm": ""}))
    client.post(ONE, {"do": "gone", "measured_mm": "", "by": hand.pk})
    assert r6.changes.get(field="state").who == hand


def test_a_lead_writes_one_down_and_changes_it(sign_in, lead, morning):
    client = sign_in("lead")
    assert "None is written down yet." in words(client.get(LIST))
    wrong = client.post("/cutters/new/", {"code": "GB 16", "kind": "bushing", "nominal_mm": "16 kg", "state": "here"})
    assert {"code", "nominal_mm"} <= set(wrong.context["form"].errors) | {"code"}
    assert 'value="16 kg"' in wrong.text
    client.post("/cutters/new/", {"code": "gb-16", "kind": "bushing", "nominal_mm": "5/8 in", "state": "here"})
    one = Cutter.objects.get(code="GB-16")
    assert (one.nominal_mm, one.as_typed) == (Decimal("15.875"), {"nominal_mm": ["5/8", "in"]})
    at = f"/cutters/{one.code}/"
    assert client.get("/cutters/gb-16/").url == at
    form = client.get(at).context["lead"]
    stands = {name: form[name].value() or "" for name in form.fields}
    client.post(at, {**stands, "do": "lead", "note": "Brass"})
    assert Cutter.objects.get().note == "Brass"
    assert "Note : nothing → Brass" in words(client.get(at))


def test_only_a_lead_changes_it_and_a_reader_says_nothing(sign_in, r6):
    assert sign_in("hand").post(ONE, {"do": "lead", "note": "x"}).status_code == 403
    assert sign_in("reader").post(ONE, {"do": "gone"}).status_code == 403
    assert sign_in("hand").get("/cutters/NONE/").status_code == 404
    assert Cutter.objects.get().state == "here"


def test_the_list_asks_as_much_for_many_as_for_one(sign_in, lead, r6, django_assert_num_queries):
    client = sign_in("hand")
    trim_mask("RIM", cutter=r6)
    for count in (1, 20):
        for number in range(count):
            code = f"C{count}-{number}"
            Feature.objects.create(mask=Mask.objects.get(), kind="edge", method="bearing", cutter=written(lead, code))
        with django_assert_num_queries(QUERIES):
            client.get(LIST)


@pytest.mark.both
@pytest.mark.parametrize("fresh", [None, date(2026, 5, 10)])
def test_many_histories_are_added_up_where_they_are_stored(lead, r6, fresh, django_assert_num_queries):
    """As many questions for many histories, and a row for a trim mask, whatever it cut."""
    Cutter.objects.update(fresh_on=fresh)
    tool = trim_mask("RIM", cutter=r6)
    used(tool, lead, metres=Decimal(2))
    with django_assert_num_queries(5):
        uses_of(["R6"], NOW)
    others = [trim_mask(f"T-{number}") for number in range(4)]
    for number in range(12):
        used(tool, lead, metres=Decimal(2), at=ago(days=number % 6, hours=2))
        used(others[number % 4], lead, metres=Decimal(9), cutter="D8")
    with django_assert_num_queries(5) as many:
        cut = uses_of(["R6"], NOW)["R6"]
    assert cut == {tool.pk: Use(Decimal(14 if fresh else 26), 7 if fresh else 13)}
    [asked] = [query["sql"] for query in many.captured_queries if "GROUP BY" in query["sql"]]
    with connection.cursor() as cursor:
        cursor.execute(asked)
        assert len(cursor.fetchall()) == 1


QUERIES = 9


def seen(client):
    return client.get(ONE).context["hand"].initial["seen"]


def test_a_size_that_is_far_off_is_asked_once(sign_in, r6):
    client = sign_in("hand")
    sent = {"do": "measure", "measured_mm": "600", "seen": seen(client)}
    reply = client.post(ONE, sent)
    assert "600 mm is 594 mm over: it is meant to be 6 mm. If that is so, keep it once more." in words(reply)
    assert 'value="600"' in reply.text
    asked = re.search(r'name="asked" value="([^"]+)"', reply.text)[1]
    # Another slip is another question.
    assert "60 mm is 54 mm over" in words(client.post(ONE, {**sent, "measured_mm": "60", "asked": asked}))
    assert Cutter.objects.get().measured_mm is None
    client.post(ONE, {**sent, "asked": asked})
    assert Cutter.objects.get().measured_mm == 600
    sent["seen"] = seen(client)
    assert "0 is not above zero." in words(client.post(ONE, {**sent, "measured_mm": "0"}))
    lead = sign_in("lead")
    assert "keep it once more" in words(
        lead.post("/cutters/new/", {"code": "R8", "kind": "cutter", "nominal_mm": "8", "measured_mm": "80"})
    )
