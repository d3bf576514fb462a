"""The same day at one tablet on the wall: two people by turns, each with a PIN."""

import pytest

from tests.browser import day
from tests.browser.day import Phone, entries, holds, last, nothing_is_wrong, summary
from tests.tooling.views.works import do, mold
from tooling.models import Person
from tooling.services import pins

PINS = {"Mara": "8205", "Jonas": "5061"}


class Wall(Phone):
    """The tablet."""

    def hands(self, name, pin=""):
        """A name, which nobody had chosen before, and the digits of its PIN; else none is asked."""
        assert self.page.locator("input[name=by]:checked").count() == 0
        self.page.locator("label.person", has_text=name).tap()
        assert self.page.locator(".pin-box").is_visible() == bool(pin)
        for digit in pin:
            self.page.locator(".pad").get_by_role("button", name=digit, exact=True).tap()

    def back(self, *words):
        """At the rows again by itself, with what was written."""
        self.at("/wall/")
        self.reads(*words)


@pytest.fixture
def wall(monkeypatch, transactional_db, opened, station):
    people = {name: Person.objects.create_person(name, "hand", "long enough for a test") for name in PINS}
    for name, pin in PINS.items():
        pins.set_pin(people[name], pin=pin)
    tablet = Wall(opened(station.name, 1280, 800, touch=True))
    tablet.hours, tablet.people, tablet.station = day.Hours(monkeypatch), people, station
    return tablet


def test_two_people_by_turns_at_one_tablet(wall):
    wax, hours = day.open_day(coats_new=1), wall.hours
    deck, hull = mold("DECK-2A", wax, pulls=4), mold("HULL520", wax)
    pair = [mold(code, wax, matched_set="Fin") for code in ("FIN-L", "FIN-R")]
    do("lay_up", hull, part="SK520-DECK", serial="0172", at=hours.now)
    hours.pass_by(hours=1)
    mara, jonas = wall.people.values()

    # no go, mended by a coat; a wrong PIN loses nothing that was typed
    wall.page.goto("/wall/")
    wall.link("DECK-2A", exact=True)
    wall.link("Start lay-up")
    wall.reads("No go")
    wall.link("Coats DECK-2A")
    wall.page.get_by_label("Lot").fill("tin 14")
    wall.hands("Mara", "1597")
    wall.button("Coat on")
    wall.reads("That is not the PIN of Mara.")
    assert wall.page.get_by_label("Lot").input_value() == "tin 14"
    assert wall.page.get_by_label("The PIN").input_value() == ""
    assert entries(deck, "coat") == 1
    # the digits are in sight once more, and the button
    for box in (wall.page.locator(part).first.bounding_box() for part in (".pad", "form .deed.big.first")):
        assert 0 <= box["y"] <= 800 - box["height"]
    wall.is_sound()
    for digit in PINS["Mara"]:
        wall.button(digit, exact=True)
    wall.button("Coat on")
    wall.back("DECK-2A, written", "By Mara.")
    coat = last(deck, "coat")
    assert (coat.by, coat.recorded_by, coat.payload["lot"]) == (mara, wall.station, "tin 14")
    assert summary(deck).since_coat == 0
    hours.pass_by(hours=1, minutes=5)

    # the other one starts a lay-up in a pair, and the first one in the mold that is ready now
    wall.page.goto("/tools/FIN-L/lay-up/")
    wall.hands("Jonas", PINS["Jonas"])
    wall.page.get_by_label("Part number").fill("SK520-DECK")
    wall.page.get_by_label("Serial number").fill("0003")
    wall.button("Start lay-up")
    wall.back("FIN-L, written")
    assert [(last(half, "lay_up").by, summary(half).serial) for half in pair] == [(jonas, "0003")] * 2
    wall.page.goto("/tools/DECK-2A/lay-up/")
    wall.hands("Mara")
    wall.page.get_by_label("Part number").fill("SK520-DECK")
    wall.page.get_by_label("Serial number").fill("0173")
    wall.button("Start lay-up")
    wall.back("DECK-2A, written")
    assert (summary(deck).serial, summary(deck).laid_up_by) == ("0173", mara)

    # the next morning the PIN is asked once more
    hours.pass_by(hours=23)
    wall.page.goto("/wall/")
    wall.link("Pulled HULL520")
    wall.hands("Jonas", PINS["Jonas"])
    wall.button("Free")
    wall.back("HULL520, written", "By Jonas.")
    wall.link("Rub it out")
    wall.button("Jonas: rub it out")
    wall.back("Rubbed out, as by Jonas")
    assert (entries(hull, "pull"), summary(hull).serial) == (0, "0172")

    # stuck: one deed, until somebody has said whether it is marked
    wall.link("Pulled HULL520")
    wall.hands("Jonas")
    wall.button("Stuck")
    wall.at("/seen/")
    wall.reads("Is the mold marked?")
    assert holds(hull) == ["hold"]
    wall.hands("Jonas")
    wall.chip("yes")
    wall.button("Write it down")
    wall.back("HULL520", "Tape a cross on it now.")
    assert (holds(hull), summary(hull).held_by) == (["tool_damaged"], jonas)
    wall.is_sound()

    # the other one looks at it
    wall.page.goto("/tools/HULL520/looked-at/")
    wall.hands("Mara", PINS["Mara"])
    wall.chip("yes, free it")
    wall.button("Looked at")
    wall.back("HULL520, written")
    looked = last(hull, "inspected")
    assert (looked.by, holds(hull), list(looked.flags.all())) == (mara, [], [])

    # late, and shown before it is written; the name is kept until then, and no longer
    wall.page.goto("/tools/FIN-R/pulled/")
    wall.hands("Jonas")
    wall.fold("change")
    wall.chip("earlier today")
    wall.page.get_by_label("At what time").fill(hours.shown(minutes=-10))
    wall.button("Light")
    wall.reads("Not written yet: look what it does first.")
    assert [entries(half, "pull") for half in pair] == [0, 0]
    wall.is_sound()
    wall.button("Write it down")
    wall.back("FIN-R, written")
    assert [(last(half, "pull").by, last(half, "pull").came_off) for half in pair] == [(jonas, ""), (jonas, "light")]
    nothing_is_wrong(wall)
