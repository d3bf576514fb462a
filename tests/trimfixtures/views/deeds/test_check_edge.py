"""The page of a check: one tap a point, or numbers with what measured them and until when that is good."""

from decimal import Decimal
from uuid import uuid4

import pytest

from shared.units import US
from tests.tooling.views.deeds.conftest import errors, happened
from tooling.models import Entry, Person
from trimfixtures.models import Feature, Mask
from trimfixtures.services import deeds

pytestmark = pytest.mark.django_db
PAGE = "/tools/COAM-TRIM/check/"


@pytest.fixture(autouse=True)
def mask(client, hand, shop):
    client.force_login(hand)
    return Mask.objects.create(tool=shop.mask, points="bow @ 0; stern @ 900; keel")


@pytest.fixture
def send(client):
    """Sends a check of the points as they stand on the page; `how`: behind its address."""

    def post(*found, how="", token=None, **typed):
        points = {f"p{number}": one for number, one in enumerate(found)}
        asked = client.get(PAGE + how).context["form"]["asked_points"].value()
        typed = {"instrument": "caliper 2", **typed} if how else typed
        sent = {"token": str(token or uuid4()), "at": "now", "asked_points": asked, **points, **typed}
        return client.post(PAGE + how, sent)

    return post


def check():
    return Entry.objects.filter(kind="check").latest("pk").payload


def test_one_tap_a_point_passes_or_holds(client, send):
    assert send("in", "in", "in", gauge="master part 2").url == "/tools/COAM-TRIM/"
    assert (check()["passed"], check()["points"]) == (True, "bow @ 0: in; stern @ 900: in; keel: in")
    text = client.get("/tools/COAM-TRIM/").text
    assert "Against master part 2. In: bow, stern, keel." in text
    assert client.get(PAGE).context["form"]["gauge"].value() == "master part 2"
    page = client.get(send("in", "out", "in").url)
    assert "Tape a cross on it now." in page.text
    assert "Out: stern." in page.text
    assert "Held: its check failed." in client.get("/tools/COAM-TRIM/").text


def test_one_that_passes_while_it_is_held_leads_to_the_look(client, send):
    send("out", "in", "in")
    reply = send("in", "in", "in")
    page = client.get(reply.url)
    assert reply.url == "/tools/COAM-TRIM/looked-at/"
    assert "COAM-TRIM passed, and stays held until somebody looks at it and frees it." in page.text
    assert "Cut edge checked: passed." in page.text
    assert f'action="/tools/COAM-TRIM/entries/{Entry.objects.latest("pk").number}/rub-out/"' in page.text


def test_what_is_not_said_is_asked_and_nothing_is_no_check(send):
    assert errors(send()) == {"__all__": ["Say of one point at least what was found there."]}
    assert "Two points are not said: stern, keel." in errors(send("in"))["p1"][0]
    assert send("in", sure="left stern, keel").status_code == 302
    assert check()["points"] == "bow @ 0: in; stern @ 900; keel"


def test_numbers_are_judged_by_the_tolerance_of_the_edge(client, mask, send):
    how = "?measured=1"
    for page in (PAGE, PAGE + how):
        text = client.get(page).text
        assert ("<b>CAUTION</b>" in text, "turning cutter" in text) == (True, False)
        assert ("splinters cut: gloves" in text, "It does not pass the part" in text) == (True, True)
    assert "limit" in errors(send("0.3", "-0.2", "0", how=how))
    Feature.objects.create(mask=mask, kind="edge", method="bearing", tolerance_mm="0.5")
    assert "limit" not in client.get(PAGE + how).context["form"].fields
    assert send("0.3", "-0,2", "0", how=how, instrument="caliper 2").url == "/tools/COAM-TRIM/"
    assert (check()["points"], check()["limit_mm"]) == ("bow @ 0: +0.3; stern @ 900: -0.2; keel: 0", "0.5")
    assert "Furthest off: +0.3 mm, bow; tolerance ±0.5 mm." in client.get("/tools/COAM-TRIM/").text
    failed = send("0.3", "-0.52", "0", how=how, limit="30").url
    assert failed.endswith("/cross/")
    assert check()["limit_mm"] == "0.5"
    assert "help first" not in client.get(failed).text
    assert "is no number" in errors(send("x", "0", "0", how=how))["p0"][0]
    assert "Check the number" in errors(send("5000", "0", "0", how=how))["p0"][0]


def test_in_inches_it_is_the_same_edge(client, hand, mask, send):
    Person.objects.filter(pk=hand.pk).update(units=US)
    Feature.objects.create(mask=mask, kind="edge", method="bearing", tolerance_mm="0.508")
    mixed = errors(send("0.02", "-0.01", "0.254 mm", how="?measured=1"))
    assert mixed["p2"] == [
        "Another reading of this check is typed in another unit (in). Say all of one check in one unit."
    ]
    send("0.02", "-0.01", "0.01", how="?measured=1")
    assert (check()["passed"], check()["points"]) == (True, "bow @ 0: +0.508; stern @ 900: -0.254; keel: +0.254")


@pytest.mark.parametrize(("limit", "said"), [("0.25", "0.00984"), ("0.3", "0.01181"), ("0.5", "0.01969")])
def test_exactly_the_tolerance_is_within_whoever_reads_it(client, hand, mask, send, limit, said):
    Person.objects.filter(pk=hand.pk).update(units=US)
    Feature.objects.create(mask=mask, kind="edge", method="bearing", tolerance_mm=limit)
    assert f"±{said} in." in client.get(PAGE + "?measured=1").text
    for exactly in (said, f"{limit} mm"):
        send(exactly, f"-{exactly}", exactly, how="?measured=1")
        assert (check()["passed"], check()["limit_mm"]) == (True, limit)
    send(*[f"{limit}3 mm"] * 3, how="?measured=1")
    assert check()["passed"] is False


def test_an_instrument_past_its_day_is_said_and_written_all_the_same(client, send):
    said = {"how": "?measured=1", "limit": "0.5", "instrument": "caliper 2", "calibrated_until": "2020-05-03"}
    reply = send("0", "0", "0", **said)
    assert "Its calibration ended on 3 May 2020." in client.get(reply.url).text
    assert check()["calibrated_until"] == "2020-05-03"
    assert "Its calibration had ended on 3 May 2020." in client.get("/tools/COAM-TRIM/").text
    form = client.get(PAGE + "?measured=1").context["form"]
    assert (form["instrument"].value(), bool(form.expired)) == ("caliper 2", True)
    other = send("0", "0", "0", **{**said, "instrument": "caliper 3"})
    assert errors(other)["calibrated_until"] == ["That is the day of caliper 2. Is it that of this one as well?"]


def test_what_measured_is_asked_and_a_calibration_that_nobody_said_is_flagged(client, shop, send):
    said = {"how": "?measured=1", "limit": "0.5"}
    send("0", "0", "0", **said, calibrated_until="2020-05-03")
    asked = errors(send("0", "0", "0", **said, instrument=""))
    assert asked == {"instrument": ["Nobody has said what measured. Write it all the same?"]}
    reply = send("0", "0", "0", **said, instrument="", sure="no instrument")
    page = client.get(reply.url).text
    assert "Until when the calibration is good was not said." in page
    assert "The last check was measured, and nobody said with what" in page
    assert "Nobody said until when the instrument is calibrated." in client.get("/tools/COAM-TRIM/checks/").text
    send("in", "in", "in")
    assert "nobody said with what" not in client.get("/tools/COAM-TRIM/").text


def test_without_points_four_lie_on_the_outline_or_the_edge_is_one(client, mask, shop):
    Mask.objects.update(points="", outline="0 0; 600 0; 600 300; 0 300")
    rows = client.get(PAGE).context["form"].rows
    assert [along for along, _field in rows] == ["0 mm", "450 mm", "900 mm", "1350 mm"]
    mask.delete()
    assert [field.label for _along, field in client.get(PAGE).context["form"].rows] == ["the whole edge"]


def test_out_of_size_leads_to_the_check_with_the_part_and_the_way_back(client, shop):
    typed = {"token": str(uuid4()), "at": "now", "part": "SK520-DECK", "other_serial": "0171", "outcome": "off_size"}
    reply = client.post("/tools/COAM-TRIM/trimmed/", typed)
    assert reply.url == PAGE
    page = client.get(PAGE)
    assert "Trimmed, out of size." in page.text
    assert "rub-out" in page.text
    assert page.context["form"]["serial"].value() == "0171"


def test_a_lead_corrects_what_was_found_and_whether_it_passed_follows(client, shop, lead):
    entry = deeds.check_edge(shop.mask, points="bow: in", by=lead, recorded_by=lead)
    client.force_login(lead)
    address = f"/tools/COAM-TRIM/entries/{entry.number}/correct/"
    form = client.get(address).context["form"]
    typed = {name: field.value() or "" for name, field in ((one.name, one) for one in form)}
    sent = {**typed, "token": str(uuid4()), "because": "tapped"}
    assert errors(client.post(address, {**sent, "points": "bow: +0.4"})).keys() == {"limit_mm"}
    shown = client.post(address, {**sent, "points": "bow: +0.4", "limit_mm": "0.2"})
    assert "Held: its check failed." in shown.text
    client.post(address, {**sent, "points": "bow: +0.4", "limit_mm": "0.2", "shown": shown.context["form"].would.key})
    assert (check()["passed"], check()["limit_mm"]) == (False, "0.2")
    assert Entry.objects.filter(kind="hold").exists()


def test_a_lead_who_reads_inches_corrects_in_inches_and_what_was_left_alone_stays(client, shop, lead):
    said = {"points": "bow @ 254: +0.25; keel: in", "limit_mm": Decimal("0.3"), "by": lead, "recorded_by": lead}
    entry = deeds.check_edge(shop.mask, **said)
    Person.objects.filter(pk=lead.pk).update(units=US)
    client.force_login(lead)
    assert "Furthest off: +0.00984 in, bow; tolerance ±0.01181 in." in client.get("/tools/COAM-TRIM/").text
    address = f"/tools/COAM-TRIM/entries/{entry.number}/correct/"
    typed = {one.name: one.value() or "" for one in client.get(address).context["form"]}
    assert (typed["points"], typed["limit_mm"]) == ("bow @ 10: +0.00984; keel: in", "0.01181")
    sent = {**typed, "token": str(uuid4()), "because": "tapped"}
    assert "Nothing is changed yet" in client.post(address, sent).text
    points = {"points": "bow @ 10: +0.00984; keel: -0.01; stern @ 20: 1/4 mm"}
    assert "is no number" in errors(client.post(address, {**sent, "points": "bow @ x: in"}))["points"][0]
    shown = client.post(address, {**sent, **points})
    client.post(address, {**sent, **points, "shown": shown.context["form"].would.key})
    assert check()["points"] == "bow @ 254: +0.25; keel: -0.254; stern @ 508: +0.25"
    assert (check()["limit_mm"], check()["passed"]) == ("0.3", True)


def test_a_lead_corrects_a_cut(client, shop, lead):
    entry = happened_cut(shop, lead)
    client.force_login(lead)
    address = f"/tools/COAM-TRIM/entries/{entry.number}/correct/"
    typed = {one.name: one.value() or "" for one in client.get(address).context["form"]}
    assert typed["metres"] == "2"
    sent = {**typed, "token": str(uuid4()), "because": "tapped", "cutter": "C6,C8", "count": "2", "outcome": "off_size"}
    shown = client.post(address, sent)
    client.post(address, {**sent, "shown": shown.context["form"].would.key})
    new = Entry.objects.filter(kind="used").latest("pk")
    assert (new.count, new.payload["cutter"], new.payload["outcome"]) == (2, "C6, C8", "off_size")
    assert (new.payload["minutes"], new.payload["metres"]) == ("12.50", "2")


def happened_cut(shop, lead):
    happened.inspect(shop.mask, passed=True)
    return deeds.trim(shop.mask, cutter="C6", minutes="12.50", metres="2", by=lead, recorded_by=lead)
