"""The settings of the shop: shown before they are kept, and what another zone does."""

import threading

import pytest

from tests.tooling.views.works import ago, do, mold
from tooling.models import Job, Shop, Span
from tooling.services.jobs.working import work
from tooling.services.recheck import differences
from tooling.services.tools import rules

pytestmark = pytest.mark.django_db
SHOP = "/shop/"


@pytest.fixture
def desk(client, lead, morning):
    client.force_login(lead, backend="shared.access.RoleBackend")
    return client


@pytest.fixture
def typed(desk):
    """The form as it stands on the screen."""
    form = desk.get(SHOP).context["form"]
    values = {name: form[name].value() for name in form.fields}
    return {name: "" if value is None else value for name, value in values.items()}


def keep(desk, typed, **more):
    return desk.post(SHOP, {**typed, **more, "do": "keep"})


def test_nothing_is_kept_before_it_was_shown(desk, typed):
    reply = desk.post(SHOP, {**typed, "name": "Oakum Works", "do": "show"})
    assert "<del>Saltbatch Boatworks</del> <ins>Oakum Works</ins>" in reply.text
    assert Shop.current().name == "Saltbatch Boatworks"
    assert keep(desk, typed, name="Oakum Works").url == SHOP
    assert Shop.current().name == "Oakum Works"
    assert desk.get("/tools/").text.count("Oakum Works") == 2, "in the title and in the header"


def test_hours_and_days_are_stored_as_the_sheet_has_them(desk, typed):
    hours = {"Mon": "7-12, 12:30-16", "Tue": "7-12, 12:30-16", "Fri": "7-12"}
    keep(desk, typed, **hours, closed_from="2026-12-24", closed_until="2026-12-26")
    shop = Shop.current()
    assert shop.week == "Mon-Tue 07:00-12:00, Mon-Tue 12:30-16:00, Fri 07:00-12:00"
    assert shop.closed_days == "2026-12-24, 2026-12-25, 2026-12-26"
    page = desk.get(SHOP)
    assert 'name="Tue" value="07:00-12:00, 12:30-16:00"' in page.text
    assert "Thu 24 December 2026" in page.text
    seen = page.context["form"]["seen"].value()
    keep(desk, {**typed, **hours}, seen=seen, closed=["2026-12-24", "2026-12-26"])
    assert Shop.current().closed_days == "2026-12-24, 2026-12-26"


def test_numbers_are_kept_and_an_empty_one_is_none(desk, typed):
    keep(desk, typed, hands="6", formal_records="yes", retention_years="10", backup_days="0")
    shop = Shop.current()
    assert (shop.hands, shop.formal_records, shop.retention_years, shop.backup_days) == (6, True, 10, 0)
    seen = desk.get(SHOP).context["form"]["seen"].value()
    keep(desk, typed, seen=seen, hands="", retention_years="")
    assert (Shop.current().hands, Shop.current().retention_years) == (None, None)


@pytest.mark.parametrize(
    ("name", "value", "wrong"),
    [
        ("name", "", "name"),
        ("name", "\x00", "name"),
        ("time_zone", "Moon/Crater", "time_zone"),
        ("Wed", "noon", "Wed"),
        ("Wed", "17-8", "Wed"),
        ("Wed", "8-8", "Wed"),
        ("Wed", "8-12, 11-17", "Wed"),
        ("Sun", "22-8:30", "Mon"),
        ("closed_from", "soon", "closed_from"),
        ("closed_from", "9999-12-31", "closed_from"),
        ("closed_until", "2026-12-24", "closed_from"),
        ("hands", "0", "hands"),
        ("hands", "10000", "hands"),
        ("hands", "many", "hands"),
        ("retention_years", "-1", "retention_years"),
        ("backup_days", "", "backup_days"),
        ("formal_records", "maybe", "formal_records"),
    ],
)
def test_what_is_wrong_is_said_at_its_field_and_nothing_is_lost(desk, typed, name, value, wrong):
    reply = keep(desk, typed, **{"Mon": "8-17", name: value})
    assert list(reply.context["form"].errors) == [wrong]
    assert 'name="Mon" value="8-17"' in reply.text
    assert Shop.current().week == ""


def test_a_week_that_was_said_is_not_emptied_and_a_night_belongs_to_its_day(desk, typed):
    keep(desk, typed, Fri="22-6")
    assert Shop.current().week == "Fri 22:00-06:00"
    now = {**typed, "seen": desk.get(SHOP).context["form"]["seen"].value()}
    reply = keep(desk, now, Fri="")
    assert reply.context["form"].errors["Mon"] == [
        "Closed on every day? Say the hours of one day at least, as in 08:00-17:00."
    ]
    assert Shop.current().week == "Fri 22:00-06:00"


def test_a_shop_that_would_not_open_for_two_years_is_refused(desk, typed):
    Shop.objects.update(closed_days=", ".join(f"2027-{month:02}-01" for month in range(1, 13)), week="Fri 08:00-12:00")
    seen = desk.get(SHOP).context["form"]
    ticked = {**typed, "Fri": "8-12", "seen": seen["seen"].value(), "closed": seen["closed"].value()}
    assert keep(desk, ticked, closed_from="2026-12-31", closed_until="2027-12-31").status_code == 302
    again = desk.get(SHOP).context["form"]
    ticked |= {"seen": again["seen"].value(), "closed": again["closed"].value()}
    reply = keep(desk, ticked, closed_from="2028-01-01", closed_until="2028-05-01")
    assert "the shop would not open once" in reply.context["form"].errors["closed_from"][0]


def test_a_range_of_years_is_a_slip(desk, typed):
    reply = keep(desk, typed, closed_from="2026-12-24", closed_until="2036-12-24")
    assert "closed_until" in reply.context["form"].errors


def test_a_change_that_somebody_else_made_meanwhile_is_not_lost(desk, typed):
    Shop.objects.update(name="Oakum Works")
    assert "This was changed meanwhile." in keep(desk, typed, hands="3").text
    assert Shop.current().hands is None


def test_another_zone_lays_every_tool_anew(desk, typed, morning):
    morning.versions.update(max_idle_days=1)
    tool = mold("DECK", morning, pulls=None)
    do("log_coat", tool, at=ago(hours=20))
    before = Span.objects.filter(tool=tool).values_list("from_at", flat=True)
    last = max(before)
    shown = desk.post(SHOP, {**typed, "time_zone": "Pacific/Auckland", "do": "show"})
    assert "1 tool is worked out anew." in shown.text
    assert Span.objects.filter(tool=tool, from_at=last).exists()
    keep(desk, typed, time_zone="Pacific/Auckland")
    assert "1 tool is worked out anew." in desk.get(SHOP).text
    assert not Span.objects.filter(tool=tool, from_at=last).exists()
    assert list(differences(rules())) == []


@pytest.mark.parametrize(("zone", "changes"), [("Europe/Madrid", False), ("Pacific/Auckland", True)])
def test_a_zone_names_the_tools_whose_state_it_changes(desk, typed, morning, zone, changes):
    morning.versions.update(max_idle_days=1)
    # the evening of the day before yesterday here, and yesterday's morning in Auckland
    do("log_coat", mold("DECK", morning, pulls=None), at=ago(hours=36))
    shown = desk.post(SHOP, {**typed, "time_zone": zone, "do": "show"})
    said = [(one.tool.code, one.now[:9], one.then[:5]) for one in shown.context["preview"].changed]
    assert said == [("DECK", "Wax first", "Ready")] * changes
    assert shown.context["preview"].same == int(not changes)


def test_another_zone_of_a_large_shop_is_a_job(desk, typed, morning, monkeypatch):
    monkeypatch.setattr("tooling.services.shop.AT_ONCE", 0)
    mold("DECK", morning)
    shown = desk.post(SHOP, {**typed, "time_zone": "Pacific/Auckland", "do": "show"})
    assert "That takes some minutes" in shown.text
    assert "preview" not in shown.context
    reply = keep(desk, typed, time_zone="Pacific/Auckland")
    job = Job.objects.get()
    assert (reply.url, Shop.current().time_zone) == (f"/jobs/{job.pk}/", "Europe/Lisbon")
    work(threading.Event(), once=True)
    job.refresh_from_db()
    assert job.words.endswith("1 tool is worked out anew.")
    assert Shop.current().time_zone == "Pacific/Auckland"
    assert list(differences(rules())) == []
    assert f'href="{SHOP}"' in desk.get(reply.url).text
    assert desk.post(SHOP, {**typed, "name": "Oakum Works", "do": "keep"}).status_code == 200, (
        "it was changed meanwhile"
    )


def test_an_empty_shop_gets_its_first_settings(client, lead):
    client.force_login(lead, backend="shared.access.RoleBackend")
    form = client.get(SHOP).context["form"]
    stands = {name: "" if form[name].value() is None else form[name].value() for name in form.fields}
    assert client.post(SHOP, {**stands, "name": "Oakum Works", "do": "keep"}).url == SHOP
    assert Shop.objects.get().name == "Oakum Works"


@pytest.mark.parametrize("role", ["reader", "hand", "station"])
def test_only_a_lead_changes_the_shop(client, request, morning, role):
    client.force_login(request.getfixturevalue(role), backend="shared.access.RoleBackend")
    assert client.get(SHOP).status_code == 403
    assert client.post(SHOP, {"name": "Mine", "do": "keep"}).status_code == 403
