"""A whole day at the molds with a phone, one thumb and the tag's code; what each step leaves behind is looked up."""

from uuid import uuid4

import pytest

from tests.browser import day
from tests.browser.day import Phone, entries, holds, last, nothing_is_wrong, summary
from tests.shared import phone_pictures
from tests.tooling.views.works import ago, do, mold
from tooling.models import Entry, Kind, Picture, Shop


@pytest.fixture
def hours(monkeypatch):
    return day.Hours(monkeypatch)


@pytest.fixture
def phone(hours, transactional_db, opened, hand):
    return Phone(opened(hand.name, **day.PHONE, colours="dark", touch=True))


@pytest.fixture
def other(opened, lead):
    """A second person's phone."""
    return Phone(opened(lead.name, **day.PHONE, touch=True))


@pytest.fixture
def picture(settings, tmp_path):
    """A picture that a phone has just taken."""
    settings.MEDIA_ROOT = tmp_path / "media"
    taken = next(one for one in phone_pictures.thirty() if one.number == 2)
    path = tmp_path / f"IMG.{taken.suffix}"
    phone_pictures.write(taken, path)
    return path


def test_from_no_go_to_a_tight_pull_with_all_that_was_seen(phone, hours, hand, picture):
    wax = day.open_day()
    deck = mold("DECK-2A", wax)
    hatch = mold("HATCH7", wax, kind=Kind.INSERT)
    day.in_it(hatch, deck)
    for _ in range(4):
        do("log_pull", deck, came_off="free", token=uuid4())

    # no go, and what mends it
    phone.scan("DECK-2A")
    phone.reads("Wax first: 4 of 4 pulls done.")
    phone.link("Start lay-up")
    phone.reads("No go", "DECK-2A · Wax first", "HATCH7 · Wax first")
    phone.is_sound()
    for code in ("DECK-2A", "HATCH7"):
        phone.link(f"Coats {code}")
        phone.button("Coat on")
        phone.reads("Earliest lay-up", hours.shown(hours=1))
        phone.page.goto("/tools/DECK-2A/lay-up/")
    phone.reads("No go", "DECK-2A · Curing")
    assert [summary(tool).since_coat for tool in (deck, hatch)] == [0, 0]
    hours.pass_by(hours=1, minutes=5)

    # go
    phone.scan("DECK-2A")
    phone.link("Start lay-up")
    phone.page.get_by_role("heading", name="Go", exact=True).wait_for()
    phone.page.get_by_label("Part number").fill("SK520-DECK")
    phone.page.get_by_label("Serial number").fill("0173")
    phone.button("Start lay-up")
    phone.at("/tools/DECK-2A/")
    laid_up = last(deck, "lay_up")
    assert (laid_up.part, laid_up.serial, laid_up.by, laid_up.at) == ("SK520-DECK", "0173", hand, hours.now)
    assert (summary(deck).serial, summary(deck).laid_up_at) == ("0173", hours.now)
    phone.reads(f"not before Wed 13 May {hours.shown(hours=22, minutes=30)}")
    hours.pass_by(hours=23)

    # pulled: two taps after the scan
    phone.scan("DECK-2A")
    phone.link("Pulled")
    phone.button("Free")
    phone.at("/seen/")
    assert phone.taps == 2
    pull = last(deck, "pull")
    said = (pull.came_off, pull.part, pull.serial, pull.by, pull.at, list(pull.flags.all()))
    assert said == ("free", "SK520-DECK", "0173", hand, hours.now, [])
    assert [(summary(tool).since_coat, summary(tool).laid_up_at) for tool in (deck, hatch)] == [(1, None), (1, None)]

    # rubbed out: the part is in it again
    hours.pass_by(minutes=4)
    phone.button("Rub it out")
    phone.reads("Rubbed out: Pulled, free")
    assert entries(deck, "pull") == 4
    assert (summary(deck).since_coat, summary(deck).serial, summary(hatch).since_coat) == (0, "0173", 0)

    # tight, with what was seen
    phone.scan("DECK-2A")
    phone.link("Pulled")
    phone.button("Tight")
    phone.at("/seen/")
    phone.button("Insert HATCH7 is back")
    phone.reads("Written: all are back.")
    for word in ("drag", "the part is marked", "HATCH7", "release"):
        phone.chip(word)
    phone.page.locator("input[type=file]").last.set_input_files(picture)
    phone.page.get_by_label("In words").fill("at the coaming")
    phone.is_sound()
    phone.button("Write it down")
    phone.reads("Pictures with it", "Pulled, tight.")
    phone.is_sound()
    phone.link("To DECK-2A")
    # it was the insert: that alone wants wax
    phone.reads("Wax first: it came off hard.", "This is about HATCH7, which is in it.", "Left: wax after pull 8")
    pull = last(deck, "pull")
    wanted = {"fault": "drag", "part_damaged": True, "surface": hatch.pk, "cause": "release", "inserts_back": True}
    assert wanted.items() <= pull.payload.items()
    assert (pull.came_off, pull.serial, pull.payload["note"]) == ("tight", "0173", "at the coaming")
    assert Picture.objects.get(tool=deck).added_by == hand
    assert (summary(deck).since_coat, entries(deck, "pull")) == (1, 5)
    nothing_is_wrong(phone)


def test_a_marked_mold_is_held_looked_at_by_another_and_coated_five_times(phone, other, hours, hand, lead):
    deck = mold("DECK-2A", day.open_day(coats_new=5, coats_again=5), pulls=None)
    do("log_coat", deck, count=5, at=ago(hours=20))
    Shop.objects.update(formal_records=True)
    do("lay_up", deck, part="SK520-DECK", serial="0173", at=hours.now)
    hours.pass_by(hours=21)

    # held at once, since nobody has looked; then by the mark
    phone.scan("DECK-2A")
    phone.link("Pulled")
    phone.button("Stuck")
    phone.at("/seen/")
    phone.reads("Not looked: it is held", "Tape a cross on it now.")
    assert (holds(deck), entries(deck, "hold")) == (["hold"], 1)
    phone.chip("yes")
    phone.button("Write it down")
    phone.reads("Held: it was marked at a pull.", "Tape a cross on it now.")
    assert holds(deck) == ["tool_damaged"]
    assert (summary(deck).held_by, last(deck, "pull").payload["tool_damaged"]) == (hand, True)

    # not looked at by who set it
    phone.link("Look at it")
    phone.reads("Formal records are on: who stopped it cannot free it.")
    phone.is_sound()
    phone.chip("yes, free it")
    phone.page.get_by_label("In words").fill("polished out")
    phone.button("Looked at")
    phone.reads("cannot free it")
    assert phone.page.get_by_label("In words").input_value() == "polished out"
    assert entries(deck, "inspected") == 0
    other.scan("DECK-2A")
    other.link("Look at it")
    other.chip("yes, free it")
    other.button("Looked at")
    other.reads("Strip first")
    looked = last(deck, "inspected")
    assert (looked.by, looked.payload["passed"], list(looked.flags.all())) == (lead, True, [])
    assert (holds(deck), summary(deck).held_since) == ([], None)

    # bare, then five coats, each when the clock of the one before is up
    phone.scan("DECK-2A")
    phone.link("Strip")
    phone.button("Stripped")
    phone.reads("Five coats")
    phone.link("Coats")
    for number in range(1, 6):
        phone.button(f"Coat {number} on", exact=True)
        phone.reads(f"{number} of 5 coats on")
        assert summary(deck).total_coats == 5 + number
        phone.reads(f"since coat {number} went on: {hours.shown()}", "Earliest lay-up")
        if number == 1:
            phone.reads(f"Not before {hours.shown(minutes=30)}")
            assert phone.page.get_by_role("button", name="Coat 2 on", exact=True).is_disabled()
            phone.is_sound()
            hours.pass_by(minutes=10)
            phone.button("Wiped")
            phone.reads(f"Coat 1 wiped {hours.shown()}")
            other.page.goto("/tools/DECK-2A/coat/")
            other.reads(f"Coat 1 wiped {hours.shown()}", "1 of 5 coats on")
        hours.pass_by(minutes=31)
        phone.page.reload()
    coats = Entry.objects.filter(tool=deck, kind="coat").standing().order_by("pk")[1:]
    assert [coat.at for coat in coats] == sorted({coat.at for coat in coats})
    assert {coat.by for coat in coats} == {hand}
    assert not [flag for coat in coats for flag in coat.flags.all()]
    assert summary(deck).since_coat == 0
    phone.scan("DECK-2A")
    phone.reads(f"Curing: can be laid up from {hours.shown(minutes=2 * 60 - 31)}")
    nothing_is_wrong(phone, other)


def test_what_was_late_and_wrong_is_seen_before_it_is_written(phone, hours, hand, lead, opened):
    wax = day.open_day()
    deck = mold("DECK-2A", wax, pulls=1)

    hours.pass_by(minutes=30)

    # a late entry that changes today's state
    phone.scan("DECK-2A")
    phone.reads("Ready: 3 pulls, then wax")
    phone.fold("Other deeds")
    phone.link("Pulled")
    phone.fold("change")
    phone.chip("earlier today")
    phone.page.get_by_label("At what time").fill("07:10")
    phone.button("Tight")
    phone.reads("Not written yet: look what it does first.", "Wax first")
    phone.is_sound()
    assert (entries(deck, "pull"), summary(deck).since_coat) == (1, 1)
    phone.button("Write it down")
    phone.at("/seen/")
    late = last(deck, "pull")
    assert (late.came_off, late.by, hours.shop_time(late.at), late.recorded_at) == ("tight", hand, "07:10", hours.now)
    assert summary(deck).since_coat == 2
    phone.link("Leave it")
    phone.reads("Wax first")
    hours.pass_by(minutes=6)

    # a correction
    desk = Phone(opened(lead.name, **day.PHONE, touch=True))
    desk.scan("DECK-2A")
    desk.reads("Wax first")
    desk.page.goto(f"/tools/DECK-2A/entries/{late.number}/correct/")
    desk.chip("light")
    desk.page.get_by_label("In your own words").fill("it only wanted a wedge")
    desk.button("Correct it")
    desk.reads("With this", "Ready: 2 pulls, then wax")
    assert last(deck, "pull") == late
    desk.is_sound()
    desk.button("Correct it")
    desk.at("/tools/DECK-2A/")
    desk.reads("Ready: 2 pulls, then wax")
    corrected = last(deck, "pull")
    assert (corrected.replaces, corrected.came_off, corrected.recorded_by) == (late, "light", lead)
    assert (entries(deck, "pull"), summary(deck).since_coat) == (2, 2)

    # a void
    desk.page.goto(f"/tools/DECK-2A/entries/{corrected.number}/void/")
    desk.chip("logged twice")
    desk.reads("With this", "Ready: 3 pulls, then wax")
    desk.is_sound()
    desk.button("Void it")
    desk.at("/tools/DECK-2A/")
    desk.reads("Ready: 3 pulls, then wax")
    assert (entries(deck, "pull"), summary(deck).since_coat, summary(deck).total_pulls) == (1, 1, 1)
    nothing_is_wrong(phone, desk)


@pytest.mark.bad_connection
def test_a_pair_is_laid_up_and_pulled_in_one_go_though_an_answer_is_lost(phone, hours, hand):
    wax = day.open_day()
    pair = [mold(code, wax, matched_set="Fin") for code in ("FIN-L", "FIN-R")]
    phone.scan("FIN-L")
    phone.link("Start lay-up")
    phone.reads("It closes on one part with")
    phone.page.get_by_label("Part number").fill("SK520-DECK")
    phone.page.get_by_label("Serial number").fill("0003")
    phone.is_sound()
    phone.button("Start lay-up")
    phone.at("/tools/FIN-L/")
    assert [(summary(half).serial, entries(half, "lay_up")) for half in pair] == [("0003", 1)] * 2
    phone.reads("On FIN-R as well")
    done = phone.page.locator(".rub").get_by_role("link", name="Lay-up done")
    assert done.evaluate("link => getComputedStyle(link).color == getComputedStyle(link.parentElement).color")
    hours.pass_by(hours=23)

    def lose_the_answer(route):
        route.fetch(max_redirects=0)
        route.abort()

    phone.scan("FIN-R")
    phone.link("Pulled")
    phone.reads("by itself, or with a hand")
    phone.page.route("**/pulled/", lose_the_answer, times=1)
    phone.page.context.set_offline(True)
    phone.button("Free")
    phone.reads("Not through yet. What you typed stays here.")
    assert [entries(half, "pull") for half in pair] == [1, 1]
    phone.page.context.set_offline(False)
    phone.at("/seen/")
    assert [entries(half, "pull") for half in pair] == [1, 1]

    # how it came off is asked of each half
    phone.is_sound()
    phone.reads("And off FIN-L?")
    phone.button("Tight , FIN-L")
    phone.at("/tools/FIN-L/entries/*/seen/")
    phone.link("Leave it")
    phone.at("/tools/FIN-L/")
    assert [last(half, "pull").came_off for half in pair] == ["tight", "free"]
    assert [(summary(half).since_coat, summary(half).laid_up_at) for half in pair] == [(1, None)] * 2
    nothing_is_wrong(phone)
