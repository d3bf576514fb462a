"""The page of one tool."""

import re
from datetime import timedelta

import pytest
from django.urls import reverse

from tests.tooling.views.works import NOW, ago, do, mold, recipe
from tooling.models import Kind, Person, Place, ToolAlias
from tooling.services.tools import add_tool

pytestmark = pytest.mark.django_db


@pytest.fixture
def look(client, reader, morning):
    """The page of a tool as a reader sees it, in words."""
    client.force_login(reader, backend="shared.access.RoleBackend")

    def words(code, **query):
        reply = client.get(f"/tools/{code}/", query)
        assert reply.status_code == 200
        return " ".join(re.sub(r"<[^>]+>", " ", reply.text.partition("<main")[2]).split())

    return words


def said(text, *words):
    """All these words stand in the text, in this order."""
    places = [text.find(word) for word in words]
    assert -1 not in places, [word for word, place in zip(words, places, strict=True) if place < 0]
    assert places == sorted(places)


def test_a_stranger_is_asked_to_sign_in(client):
    assert client.get("/tools/DECK/").url == "/sign-in/?next=/tools/DECK/"


def test_the_first_screenful_says_how_it_stands(look, morning):
    mold("DECK-2B", morning, pulls=2, name="Sea kayak 520, deck", place=Place.objects.create(code="B2", name="rack B"))
    said(look("DECK-2B"), "DECK-2B", "Sea kayak 520, deck · rack B", "Ready: 2 pulls, then wax.", "State, worked out")


def test_the_state_is_worked_out(look, morning):
    mold("DECK", morning, pulls=3)
    text = look("DECK")
    said(
        text,
        "Pulls allowed after a coat (paste wax) 4",
        "Pulls since the coat of 11 May − 3",
        "Left: wax after pull 4 1",
    )
    said(
        text,
        "WAX , Paste wax",
        "Wax wanted from 11 June at the latest: then 30 idle days are over",
        "Film none in this recipe",
    )
    said(text, "Touch-ups 0 since the preparation, no limit", "Pulls in all 3", "nothing holds it")


def test_past_the_line_and_bare_are_worked_out_as_well(look, morning):
    mold("PAST", morning, pulls=6)
    mold("BARE", recipe("NEW", coats_new=5, sealer_coats=2), pulls=None)
    mold("NONE", None, pulls=None)
    said(look("PAST"), "Wax first: 2 pulls past the wax line.", "− 6", "Past the wax line 2")
    said(look("BARE"), "Sealer coats wanted 2", "Coats on a new surface 5", "Still missing 7")
    said(look("NONE"), "No release recipe: choose one first.", "Recipe none chosen")


def test_a_limit_of_pulls_a_break_in_an_own_number_and_a_film(look, morning):
    mold("LIMIT", recipe("L", max_pulls_per_preparation=3, max_touch_ups=6), pulls=2)
    mold("FRESH", recipe("B", break_in="1,2", film_first_pulls=3), pulls=0)
    do("set_interval", mold("OWN", morning), at=ago(hours=2), count=7)
    said(look("LIMIT"), "But of 3 pulls on one preparation are left 1", "Left: wax after pull 3 1", "0 of 6 since")
    said(
        look("FRESH"), "Pulls allowed after coat 1 of 2 of the break-in 1", "before the first 3 pulls of a preparation;"
    )
    said(look("OWN"), "by this tool’s own number 7")


def test_a_coat_that_still_hardens_says_until_when(look, morning):
    deck = mold("DECK", recipe("SLOW", cure_hours_touch_up=12), pulls=4)
    do("log_coat", deck, at=NOW)
    said(look("DECK"), "Curing: can be laid up from 19:40.", "Hardening time until 19:40, then check it is hard")


def test_what_makes_sense_now_is_a_button(client, hand, reader, morning):
    mold("READY", morning)
    addresses = [reverse(name, args=["READY"]) for name in ("lay_up", "coat", "hold", "tell_lead")]
    client.force_login(hand, backend="shared.access.RoleBackend")
    text = client.get("/tools/READY/").text
    assert re.findall(r'<a class="deed big[^"]*" href="([^"]+)"', text) == addresses
    assert f'<a class="deed big first" href="{addresses[0]}">' in text
    client.force_login(reader, backend="shared.access.RoleBackend")
    assert addresses[0] not in client.get("/tools/READY/").text


def test_every_other_deed_is_in_the_fold(client, hand, morning):
    mold("READY", morning)
    client.force_login(hand, backend="shared.access.RoleBackend")
    fold = client.get("/tools/READY/").text.partition("Other deeds</summary>")[2].partition("</details>")[0]
    names = (
        "pulled", "take_off_mold", "wax_wanted", "release_check", "clean", "build_up", "strip", "polish", "repair",
        "resurfaced", "installed", "looked_at", "defect_new", "reading", "note", "move", "lend",
    )  # fmt: skip
    addresses = [reverse(name, args=["READY"]) for name in names]
    assert re.findall(r'href="([^"]+)"', fold) == addresses


def test_what_has_to_wait_is_not_filled_in(client, hand, morning):
    early, again = mold("EARLY", morning), mold("AGAIN", recipe("GAP", coats_new=2, coat_gap_minutes=90), pulls=None)
    do("lay_up", early, at=ago(hours=1), earliest_pull=NOW + timedelta(hours=8))
    do("log_coat", again, at=ago(minutes=30))
    client.force_login(hand, backend="shared.access.RoleBackend")
    for code, name in (("EARLY", "pulled"), ("AGAIN", "coat")):
        assert f'<a class="deed big" href="{reverse(name, args=[code])}">' in client.get(f"/tools/{code}/").text


def test_held_says_why_since_when_and_by_whom(client, hand, look, morning):
    deck = mold("DECK", morning)
    do("hold", deck, Person.objects.named("Jonas"), at=ago(hours=15), reason="chip at the transom")
    said(look("DECK"), "Held: somebody stopped it.", "Since yesterday 16:40, by Jonas: “chip at the transom”")
    client.force_login(hand, backend="shared.access.RoleBackend")
    text = client.get("/tools/DECK/").text
    assert f'<a class="deed big first" href="{reverse("looked_at", args=["DECK"])}">' in text
    # what else is wrong is said in the fold
    assert reverse("hold", args=["DECK"]) not in text.partition("Other deeds")[0]


def test_a_part_in_it_is_said_with_who_laid_it_up(look, morning):
    deck = mold("DECK", morning, lift="trolley and two")
    mara = Person.objects.named("Mara")
    do("lay_up", deck, mara, at=ago(hours=1), part="520", serial="0173", earliest_pull=NOW + timedelta(hours=8))
    said(
        look("DECK"), "Part in the mold, not before 15:40.", "Lay-up started today 06:40 by Mara.",
        "Part 520, serial 0173.", "Lift: trolley and two.",
    )  # fmt: skip


def test_inserts_stand_with_their_mold_and_lead_to_it(look, morning):
    host = mold("HOST", morning, pulls=1)
    for number, pulls in enumerate((1, 3), 1):
        do("install", mold(f"RIM-{number}", morning, pulls=pulls, kind=Kind.INSERT), at=ago(hours=1), mold=host)
    text = look("HOST")
    said(text, "Last pull, then wax. This is about RIM-2, which is in it.", "Mold inserts in it", "RIM-1 ")
    said(text, "Mold insert installed. RIM-2", "Mold insert installed. RIM-1")
    assert "It is in HOST" not in text
    said(look("RIM-2"), "in HOST", "Last pull, then wax.", "Installed in HOST")


def test_an_insert_has_the_uses_of_its_mold_in_its_history(look, morning):
    host, rim = mold("HOST", morning), mold("RIM", morning, kind=Kind.INSERT)
    do("log_pull", host, at=ago(hours=4), serial="0001")
    do("install", rim, at=ago(hours=3), mold=host)
    do("log_pull", host, at=ago(hours=2), serial="0002")
    do("remove", rim, at=ago(hours=1, minutes=30))
    do("log_pull", host, at=ago(hours=1), serial="0003")
    text = look("RIM")
    said(text, "Removed from", "Serial 0002 . HOST .", "Installed in HOST")
    assert "0001" not in text
    assert "0003" not in text
    said(look("HOST"), "Serial 0003", "Mold insert removed. RIM", "Serial 0002", "Mold insert installed. RIM", "0001")


def test_an_insert_that_stayed_behind_has_the_pull_of_its_lay_up(look, morning):
    host, rim = mold("HOST", morning), mold("RIM", morning, kind=Kind.INSERT)
    do("install", rim, at=ago(hours=5), mold=host)
    do("lay_up", host, at=ago(hours=4), serial="0001")
    do("remove", rim, at=ago(hours=3), serial="0001")
    do("log_pull", host, at=ago(hours=2), came_off="lost", serial="0001")
    do("log_pull", host, at=ago(hours=1), serial="0002")
    text = look("RIM")
    said(text, "Held", "Pulled, lost. Serial 0001", "Removed from", "Lay-up started. Serial 0001")
    assert "0002" not in text


def test_voids_and_corrections_stay_to_be_seen(look, lead, morning):
    deck = mold("DECK", morning)
    wrong = do("log_pull", deck, Person.objects.named("Jonas"), at=ago(hours=3), came_off="tight", serial="0170")
    twice = do("log_pull", deck, at=ago(hours=2), came_off="free", serial="0171")
    right = do("correct", wrong, lead, reason="thumb slipped", changes={"came_off": "light"}, at=ago(hours=4))
    do("void", twice, lead, reason="same pull written twice")
    text = look("DECK")
    said(
        text,
        "Pulled, free. Serial 0171 .",
        "Void Tue 12 May 07:40 by Test lead: “same pull written twice”. Not counted.",
    )
    said(
        text,
        "Pulled, light. Serial 0170 .",
        "Corrected Tue 12 May 07:40 by Test lead: “thumb slipped”.",
        "Before: Pulled, tight.",
    )
    said(text, "Before:", "Tue 12 May 04:40")
    assert text.count("Serial 0170") == 2
    do("void", right, lead, reason="never was")
    said(look("DECK"), "Corrected", "“never was”")


def test_flags_stand_beside_their_entry_also_those_on_inserts(look, morning):
    host, rim = mold("HOST", morning, pulls=4), mold("RIM", morning, pulls=4, kind=Kind.INSERT)
    do("install", rim, at=ago(hours=1), mold=host)
    do("lay_up", host, at=ago(minutes=30))
    text = look("HOST")
    said(text, "Lay-up started.", "It was used although it wanted a coat or a strip.", "RIM: It was used although")
    insert = look("RIM")
    assert insert.count("It was used although it wanted a coat or a strip.") == 1
    assert "RIM: It" not in insert


def test_what_was_written_down_late_says_so(look, lead, morning):
    deck = mold("DECK", morning)
    do("log_pull", deck, lead, at=ago(hours=13))
    said(look("DECK"), "Mon 11 May 18:40", "· Test lead", "written down Tue 12 May 07:40", "Pulled.")


def test_a_long_history_has_its_last_dozen_years_in_folds_and_pages(look, morning):
    deck = mold("DECK", morning, pulls=None)
    for number in range(60):
        do("take_note", deck, at=ago(days=90 - number), note=f"n{number}.")
    do("take_note", deck, at=ago(days=400), note="last year.")
    brief = look("DECK")
    said(brief, "n59.", "n48.", "60 entries", "1 entry", "Older: 49 entries since")
    assert "n47." not in brief
    said(brief, "2026 · 60 entries all else 60 everything 60", "2025 · 1 entry all else 1 everything 1")
    first = look("DECK", older=1)
    said(first, "n59.", "n10.", "Older: 11 entries since")
    assert ("n9." in first, '<details class="fold year"' in first) == (False, False)
    second = look("DECK", older=2)
    said(second, "n9.", "n0.", "last year.", "Newer entries")
    assert "Older:" not in second


@pytest.mark.parametrize("page", ["0", "-1", "x", "999999999999", "²", "", "\x00"])
def test_a_bad_page_is_no_harm(look, morning, page):
    mold("DECK", morning, pulls=1)
    said(look("DECK", older=page), "Pulled, free.")


def test_kin_and_numbers(look, morning):
    plug = mold("PLUG", morning, kind=Kind.PLUG)
    mold(
        "DECK-2A",
        morning,
        made_from=plug,
        matched_set="K520",
        mass_kg="38.50",
        lift="two",
        owner="Sluicegate Rowing Club",
    )
    mold("DECK-2B", morning, made_from=plug)
    mold("HULL", morning, matched_set="K520")
    ToolAlias.objects.create(code="OLD 1", tool=mold("OLD", morning))
    text = look("DECK-2A")
    said(
        text,
        "Mass 38.5 kg",
        "Lift two",
        "Owner Sluicegate Rowing Club",
        "Made from PLUG",
        "From the same one DECK-2B",
        "Matched set K520 HULL",
    )
    said(look("PLUG"), "Made from it DECK-2A", "DECK-2B")
    assert "No plug is written down for it" in look("OLD")
    said(look("OLD"), "Lift No words for the lift yet: ask the lead.", "Old codes OLD 1")


def test_a_trim_mask_has_no_tape_and_no_sum(client, hand, look, morning):
    add_tool(code="COAM-TRIM", kind=Kind.TRIM_MASK, name="Cockpit coaming")
    text = look("COAM-TRIM")
    assert "State, worked out" not in text
    said(text, "Cockpit coaming · trim mask", "Nothing has been written down yet.")
    client.force_login(hand, backend="shared.access.RoleBackend")
    assert 'class="tally"' not in client.get("/tools/COAM-TRIM/").text


@pytest.mark.parametrize("address", ["/tools/deck-2a/", "/tools/OLD%20DECK/", "/tools/old%20deck/"])
def test_old_codes_and_other_case_lead_to_the_address(client, look, morning, address):
    ToolAlias.objects.create(code="OLD DECK", tool=mold("DECK-2A", morning))
    assert client.get(address).url == "/tools/DECK-2A/"
    assert client.get(address, {"older": "2"}).url == "/tools/DECK-2A/?older=2"


def test_an_unknown_code_is_helped_on(client, look, morning):
    mold("DECK-20", morning)
    mold("TENDER", morning)
    reply = client.get("/tools/DECK-2O/")
    assert reply.status_code == 404
    assert 'href="/tools/DECK-20/"' in reply.text
    assert "TENDER" not in reply.text
    for code in ("%00", "x" * 500, "<b>", "..%20"):
        assert client.get(f"/tools/{code}/").status_code == 404


@pytest.mark.parametrize("count", [1, 45])
def test_as_many_queries_for_a_long_history_as_for_a_short_one(
    client, look, lead, morning, count, django_assert_num_queries
):
    host = mold("HOST", morning)
    do("install", mold("RIM", morning, kind=Kind.INSERT), at=ago(hours=3), mold=host)
    for number in range(count):
        do("log_pull", host, lead, at=ago(hours=1, minutes=-number), came_off="tight")
    with django_assert_num_queries(28):
        look("HOST", older=1)
