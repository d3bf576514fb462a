"""From the first step of a plug to the mold that is taken off it, on one phone; what each step leaves is looked up."""

import pytest

from tests.browser import day
from tests.browser.day import Phone, entries, last, nothing_is_wrong, summary
from tests.browser.going import follow
from tooling.models import Kind, Tool
from tooling.services.making_steps import Step, set_steps


@pytest.fixture
def hours(monkeypatch):
    return day.Hours(monkeypatch)


@pytest.fixture
def phone(hours, transactional_db, opened, lead):
    day.open_day()
    set_steps(Kind.PLUG, [Step("Filled"), Step("Release coats on", "coat")])
    set_steps(Kind.MOLD, [Step("Laid up on the plug", "lay_up"), Step("Off the plug", "pull"), Step("Edges cut")])
    return Phone(opened(lead.name, **day.PHONE, touch=True))


def begun(phone, kind, code, **typed):
    """A tool of a kind is begun in the guide."""
    phone.page.goto("/tools/new/")
    phone.link(f"A new {kind}")
    for label, text in {"Code": code, "Name": f"Rudder {kind}", **typed}.items():
        phone.page.get_by_label(label, exact=True).fill(text)
    phone.page.get_by_label("Release recipe").select_option(label="WAX")
    phone.button("Begin it")
    phone.at(f"/tools/{code}/")
    return Tool.objects.get(code=code)


def test_a_plug_from_its_first_step_to_the_mold_off_it(phone, hours, lead):
    plug = begun(phone, "plug", "R-PLUG")
    phone.link("Next step")
    phone.button("Next: Filled")
    phone.at("/tools/R-PLUG/")
    assert (summary(plug).step, last(plug, "making").by) == ("Filled", lead)
    phone.link("Next step")
    phone.link("Next: Release coats on")
    phone.reads("Coats")
    follow(phone.page, phone.page.get_by_role("button", name="Coat on").first)
    assert entries(plug, "coat") == 1
    hours.pass_by(hours=3)
    phone.page.goto("/tools/R-PLUG/accepted/")
    phone.chip("It is hard, its steps are done, and I looked it over")
    phone.button("I looked, it is accepted")
    phone.at("/tools/R-PLUG/")
    assert not summary(plug).making

    made = begun(phone, "mold", "R-MOLD", **{"Made from": "R-PLUG"})
    phone.link("Next step")
    phone.link("Next: Laid up on the plug")
    phone.button("Start lay-up")
    phone.at("/tools/R-PLUG/")
    assert last(plug, "lay_up").part == "R-MOLD"
    hours.pass_by(hours=30)

    phone.scan("R-PLUG")
    phone.link("Take a mold off it")
    phone.reads("R-MOLD comes off it")
    phone.is_sound()
    phone.button("Light")
    phone.at("/tools/R-MOLD/")
    assert phone.taps == 2
    pull = last(plug, "pull")
    assert (pull.part, pull.came_off, pull.at) == ("R-MOLD", "light", hours.now)
    assert (summary(made).making, summary(made).total_pulls, made.made_from) == (True, 0, plug)
    phone.reads("Next: Edges cut")
    nothing_is_wrong(phone)
