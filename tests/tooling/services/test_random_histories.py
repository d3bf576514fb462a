"""Stored states, flags and spans against a fresh fold, over many made-up histories (HISTORIES says how many).

Each history (a mold and two inserts, a second mold that borrows them, three versions of a recipe; late entries,
corrections and voids in between) is written deed by deed through the ledger. Then the database is asked at random
moments, and the pure functions fold the same deeds from the beginning: both must say the same. Between the deeds
others are tried that the rules refuse. How often each status, flag and refusal occurred is printed at the end of the
run; none may be zero.
"""

import os
from collections import Counter
from datetime import datetime, timedelta
from random import Random

import pytest
from django.db import connection, transaction

from shared.errors import Refused
from tests.tooling.calc.gate import refusal
from tests.tooling.calc.histories import made
from tests.tooling.calc.made_shops import MOLDS
from tests.tooling.calc.replay import Board, Deed, History, entry_of
from tests.tooling.services.refused_deeds import ALONE, REFUSED, refused_deed
from tests.tooling.services.replayed import Written, at
from tooling.calc.state import encode
from tooling.calc.status import ORDER, Status
from tooling.models import Entry, Flag, Span
from tooling.selectors.rows import rows, shown
from tooling.services.recheck import differences
from tooling.services.tools import rules
from tooling.words.flags import FLAGS

pytestmark = pytest.mark.django_db

ON_SQLITE = connection.vendor == "sqlite"
# A test for each twenty-five, so that several processes share them. On PostgreSQL few: what differs there is the
# database, not the rules.
IN_CHUNK = 25
ALL_OCCURS = 75
CHUNKS = max(1, int(os.environ.get("HISTORIES", ALL_OCCURS if ON_SQLITE else IN_CHUNK)) // IN_CHUNK)
# Beyond these: a build-up on a bare surface, a use on a wet film, a part pulled early, a use while held, a coat beyond
# the limit, and the only tool of two thousand that is retired twice. They go with the first of them,
# on SQLite, where every one must occur.
RARE = (96, 177, 223, 398, 664) if ON_SQLITE else ()


@pytest.mark.parametrize("chunk", range(CHUNKS))
def test_stored_states_are_those_of_a_fresh_fold(chunk, record_property):
    counts: Counter[tuple[str, str]] = Counter()
    for seed in (*range(chunk * IN_CHUNK, (chunk + 1) * IN_CHUNK), *(() if chunk else RARE)):
        with transaction.atomic():
            compare(seed, counts)
            transaction.set_rollback(True)
    record_property("occurred", [[*what, times] for what, times in counts.items()])
    if ON_SQLITE and CHUNKS * IN_CHUNK >= ALL_OCCURS:
        wanted = {"status": ORDER, "flag": FLAGS, "refused": REFUSED}
        record_property("must_occur", [[group, word] for group, words in wanted.items() for word in words])
        record_property("of_tests", CHUNKS)


def compare(seed: int, counts: Counter) -> None:
    rng = Random(seed)
    history = made(rng, rng.randint(2, 14))
    written = Written(history)
    looks = set(rng.sample(range(len(history.deeds)), 2)) | {len(history.deeds) - 1}
    for place, one in enumerate(history.deeds):
        written.write(one)
        if place in looks:
            look(rng, history.shop, history.deeds[: place + 1], written, counts)
    with at(history.end):
        assert [str(found) for found in differences(rules())] == []
    counts.update(("flag", flag) for flag in Flag.objects.values_list("flag", flat=True))
    for _ in range(2):
        refuse(rng, history, written, counts)


def look(rng: Random, shop, deeds: list[Deed], written: Written, counts: Counter) -> None:
    """The database and a fresh fold, now and at two later moments, if nobody does anything more."""
    history = History(shop, deeds)
    entries = history.entries
    whole = Board(shop, entries)
    for code, tool in written.tools.items():
        tool.summary.refresh_from_db()
        assert with_places(tool.summary.state, written) == encode(whole.folded[code].state)
    assert stored_flags(written) == whole.flags
    now = deeds[-1]["recorded_at"]
    laid = spans(written)
    for moment in (now, *(now + timedelta(minutes=rng.choice((0, 7, 200, 9000, 90000))) for _ in range(2))):
        fresh = Board(shop, entries, as_of=moment)
        for code, status in at_moment(laid, moment).items():
            want = fresh.status(code, moment) if code in MOLDS else fresh.own(code, moment)
            assert told(status, written) == told(want, None)
            counts["status", status.status] += 1


def with_places(stored: dict, written: Written) -> dict:
    """A stored state with the numbers of entries and people as the made-up history has them."""
    place = {entry.pk: number for number, entry in enumerate(written.entries, 1)}
    names = {person.pk: name for name, person in written.people.items()}
    state = dict(stored)
    if "holds" in state:
        state["holds"] = {reason: place[pk] for reason, pk in state["holds"].items()}
    if "part" in state:
        state["part"] = [*state["part"][:-1], place[state["part"][-1]]]
    if "held_by" in state:
        state["held_by"] = sorted(names[pk] for pk in state["held_by"])
    return state


def spans(written: Written) -> dict[str, list[tuple[Span, Status]]]:
    """What is laid down for each tool, read once."""
    stored = list(Span.objects.filter(tool__in=written.codes).order_by("from_at", "pk"))
    shown_so = rows(shown().filter(tool__in=written.codes).order_by("from_at", "pk"), stored[0].from_at)
    laid: dict[str, list[tuple[Span, Status]]] = {code: [] for code in written.tools}
    for span, row in zip(stored, shown_so, strict=True):
        laid[written.codes[span.tool_id]].append((span, row.status))
    return laid


def at_moment(laid: dict[str, list[tuple[Span, Status]]], moment: datetime) -> dict[str, Status]:
    """The one span of each tool that holds then."""
    answers = {}
    for code, of_tool in laid.items():
        holding = [(span, status) for span, status in of_tool if span.from_at <= moment]
        [answers[code]] = [status for span, status in holding if span.until_at is None or moment < span.until_at]
    return answers


def told(status: Status, written: Written | None) -> tuple:
    surface = written.codes[status.surface] if written else status.surface
    return (
        status.status, surface, status.why, status.need, status.pulls_left, status.wax_after_pull, status.pulls_past,
        status.expires_on, status.ready_at,
    )  # fmt: skip


def stored_flags(written: Written) -> set[tuple[int, str, str]]:
    place = {entry.pk: number for number, entry in enumerate(written.entries, 1)}
    flags = Flag.objects.filter(surface__in=written.codes).values_list("entry_id", "flag", "surface_id")
    return {(place[entry], flag, written.codes[surface]) for entry, flag, surface in flags}


def refuse(rng: Random, history: History, written: Written, counts: Counter) -> None:
    """A deed that the rules refuse: the ledger refuses it as well, and nothing is written."""
    code, tried = refused_deed(rng, history)
    if code not in ALONE:
        code = refusal(history.shop, history.entries, entry_of(tried, len(history.deeds)), tried["recorded_at"])
        if not code:
            return
    before = Entry.objects.count()
    with pytest.raises(Refused), transaction.atomic():
        written.write(tried)
    assert Entry.objects.count() == before
    counts["refused", code] += 1
