"""What the board promises: its advice ends in a ready mold, and a use is flagged exactly where it is not ready.

Source: the house's own rules of release, the invariants named after the worked cases ("in ready and last_pull a use is
never flagged at that moment, by the part asked for, in every other status always"; the board's own advice followed).
"""

from datetime import datetime, timedelta

from hypothesis import given
from hypothesis import strategies as st

from tests.tooling.calc.advice import READY, asked_for, deed
from tests.tooling.calc.histories import PARTS, histories, some_deed
from tests.tooling.calc.made_shops import MOLDS, OWN
from tests.tooling.calc.replay import Board, Deed, History, Shop, entry_of
from tooling.calc.entry import USE_KINDS, Entry
from tooling.calc.status import Status

LATER = (timedelta(0), timedelta(minutes=20), timedelta(hours=5), timedelta(days=3), timedelta(days=31))
# On each surface from the worst: reinstated, freed, pulled, stripped, sealed, coated and cured, filmed and dried; the
# waits, and the pull, are common. A recipe row that becomes valid meanwhile can ask for some of it again.
ON_EACH, IN_COMMON = 5, 6
AFTER_READY = (
    *("pull", "coat") * 3, "lay_up", "hold", "interval", "interval", "wax_wanted", "strip", "film", "clean",
)  # fmt: skip


def with_deed(entries: list[Entry], made: Deed) -> list[Entry]:
    return [*entries, entry_of(made, max((one.id for one in entries), default=0))]


def flags_of_last(shop: Shop, entries: list[Entry]) -> set[tuple[str, str]]:
    return {(flag, tool) for number, flag, tool in Board(shop, entries).flags if number == entries[-1].id}


def stand(data: st.DataObject, history: History) -> tuple[datetime, list[Entry]]:
    """A moment, and all that stood at it; the moment may be long after the last deed."""
    at = data.draw(st.sampled_from(history.moments))
    entries = history.prefix(at)
    return at + data.draw(st.sampled_from(LATER)), entries or [entry_of(deed(MOLDS[0], "note", at), 0)]


def tolerated(status: Status, asked: Deed) -> set[str]:
    """The board says nothing of the gap between coats; and where a later recipe row asks for a sealer under coats that
    are on already, the sealer it asks for shows that they have to come off."""
    under_coats = asked["kind"] == "sealer" and status.coats_in_preparation > 0
    return {"sealer_over_coat"} if under_coats else {"coat_too_soon", "coat_too_late"}


def follow(shop: Shop, entries: list[Entry], mold: str, at: datetime, part: str = "") -> tuple[datetime, list[Entry]]:
    """Does what the board asks for until the mold is ready, in a bounded number of steps that are themselves right."""
    surfaces = 1 + len(Board(shop, entries).installed(mold, at))
    steps: list[str] = []
    while (status := (board := Board(shop, entries)).status(mold, at, part)).status not in READY:
        steps.append(status.status)
        assert len(steps) <= surfaces * ON_EACH + IN_COMMON, steps
        assert status.pulls_left == 0 or status.status in ("curing", "needs_film", "film_drying")
        at, asked = asked_for(status, at, OWN)
        if asked is None:
            assert board.status(mold, at, part) != status, "the wait brings it on"
            continue
        entries = with_deed(entries, asked)
        if asked["kind"] != "pull":
            assert flags_of_last(shop, entries) <= {(flag, status.surface) for flag in tolerated(status, asked)}
    return at, entries


def nearly_ready(data: st.DataObject, history: History, mold: str) -> tuple[datetime, list[Entry]]:
    """A mold made ready, and up to three deeds after that."""
    at, entries = follow(history.shop, history.prefix(history.end), mold, history.end)
    rng = data.draw(st.randoms(use_true_random=False))
    for kind in data.draw(st.lists(st.sampled_from(AFTER_READY), max_size=3)):
        at += timedelta(minutes=rng.choice((0, 1, 50)))
        tool = mold if kind in USE_KINDS else rng.choice((mold, *Board(history.shop, entries).installed(mold, at)))
        entries = with_deed(entries, some_deed(rng, tool, kind, at))
    return at, entries


@given(histories(), st.data())
def test_following_the_advice_ends_in_a_ready_mold(history, data):
    at, entries = stand(data, history)
    mold, part = data.draw(st.sampled_from(MOLDS)), data.draw(st.sampled_from(PARTS))
    at, entries = follow(history.shop, entries, mold, at, part)
    status = Board(history.shop, entries).status(mold, at, part)
    assert status.pulls_left >= 1
    assert (status.pulls_left == 1) == (status.status == "last_pull")


@given(histories(), st.data())
def test_a_use_is_flagged_exactly_where_the_board_is_not_ready(history, data):
    """Surface by surface, so that one that is not ready does not hide another; the whole follows."""
    mold = data.draw(st.sampled_from(MOLDS))
    for at, entries in (stand(data, history), nearly_ready(data, history, mold), nearly_ready(data, history, mold)):
        board = Board(history.shop, entries)
        surfaces = (mold, *board.installed(mold, at))
        kinds = ["lay_up"]
        # A pull is a use of its own only where no part was laid up for it.
        if not any(board.folded[tool].state.part or board.folded[tool].state.open_lay_ups for tool in surfaces):
            kinds.append("pull")
        for kind in kinds:
            for part in PARTS:
                flags = flags_of_last(history.shop, with_deed(entries, deed(mold, kind, at, part=part)))
                unready = {tool for tool in surfaces if board.own(tool, at, part).status not in READY}
                assert {tool for _, tool in flags} == unready, flags
                assert bool(flags) == (board.status(mold, at, part).status not in READY)


@given(histories(), st.data())
def test_as_many_pulls_are_left_as_the_board_says(history, data):
    """That many pulls of the part are not flagged, and one more is: the number on the board is the promise."""
    for mold in MOLDS:
        at, entries = nearly_ready(data, history, mold)
        board = Board(history.shop, entries)
        for part in PARTS:
            status = board.status(mold, at, part)
            if status.status not in READY or board.folded[mold].state.open_lay_ups:
                continue
            assert status.wax_after_pull == status.total_pulls + status.pulls_left
            for count, flagged in ((status.pulls_left, False), (status.pulls_left + 1, True)):
                pulls = deed(mold, "pull", at, part=part, count=count, film=True)
                flags = {flag for flag, _ in flags_of_last(history.shop, with_deed(entries, pulls))}
                assert flags == ({"used_overdue"} if flagged else set())
