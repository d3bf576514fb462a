"""Every kind of entry has its line in the history."""

from datetime import timedelta
from types import SimpleNamespace
from typing import Any

import pytest

from tests.tooling.words.samples import NOW, ZONE
from tooling.calc.entry import KINDS
from tooling.words.entries import Around, told

AROUND = Around(NOW, ZONE, tools={7: "DECK-2B", 8: "COAM-B"}, places={3: "B-2"}, counts={7: "Rack B"})


def fact(kind: str, **given: Any) -> SimpleNamespace:
    empty = {
        "at": NOW, "count": None, "area": "whole", "came_off": "", "film": None, "part": "", "serial": "",
        "release_system": "", "earliest_pull": None, "mold_id": None, "payload": {},
    }  # fmt: skip
    return SimpleNamespace(**(empty | {"kind": kind} | given))


LINES = [
    (fact("pull", came_off="light", count=1, serial="0172"), "Pulled, light", ("Serial 0172.",)),
    (fact("pull"), "Pulled", ()),
    (fact("pull", count=3, came_off="tight"), "Three pulls, the last tight", ()),
    (fact("pull", count=40), "40 pulls", ()),
    (
        fact(
            "pull", came_off="stuck", payload={"surface": 8, "cause": "release", "fault": "drag", "tool_damaged": True}
        ),
        "Pulled, stuck",
        ("Seen: drag.", "Where: COAM-B.", "Cause: release.", "The tool is marked."),
    ),
    (
        fact("coat", count=2, payload={"reason": "tight", "lot": "14"}),
        "Two coats, whole surface",
        ("Because it is getting tight.", "Lot 14."),
    ),
    (fact("coat", area="spot", release_system="SEMI"), "One coat, a spot", ("Recipe SEMI.",)),
    (fact("sealer", count=1), "One coat of sealer, whole surface", ()),
    (
        fact("lay_up", part="520-D", film=True, earliest_pull=NOW + timedelta(hours=8)),
        "Lay-up started",
        ("Part 520-D.", "Not before Tue 12 May 15:40.", "With a fresh film."),
    ),
    (fact("strip"), "Stripped to bare", ()),
    (fact("repair", area="flange"), "Repaired, flange", ()),
    (
        fact("repair", payload={"value": "140", "unit": "°F", "quantity": "service temperature", "lot": "G-2"}),
        "Repaired",
        ("The filler stands 140 °F.", "Lot G-2."),
    ),
    (fact("clean", payload={"instrument": "soap"}), "Cleaned", ("With soap.",)),
    (
        fact("release_check", payload={"passed": False, "instrument": "water"}),
        "Tape or water test: failed",
        ("Water test.",),
    ),
    (fact("inspected", payload={"passed": True, "note": "chip filled"}), "Looked at: passed", ("“chip filled”",)),
    (fact("inspected", payload={"passed": False}), "Looked at: did not pass", ()),
    (fact("interval", count=3), "A coat after every 3 pulls", ()),
    (fact("interval", part="520-D"), "A coat as often as the recipe says, for part 520-D", ()),
    (fact("release_system", release_system="SEMI"), "Recipe from now on: SEMI", ()),
    (
        fact("starting_state", payload={"prepared": "yes", "pulls_since_coat": 2, "total_pulls": 31}),
        "Starting state: prepared, 2 pulls since the coat",
        ("31 pulls before the record began.",),
    ),
    (fact("starting_state", payload={"prepared": "no"}), "Starting state: bare", ()),
    (fact("starting_state", payload={"prepared": "unknown"}), "Starting state: nobody knows what is on it", ()),
    (
        fact("starting_state", payload={"prepared": "unknown", "pulls_since_coat": 4}),
        "Starting state: 4 pulls since a coat of which nobody knows the day",
        (),
    ),
    (fact("installed", mold_id=7), "Installed in DECK-2B", ()),
    (fact("removed"), "Removed from its mold", ()),
    (fact("moved", payload={"place": 3, "home": True}), "Moved to B-2, its home from then on", ()),
    (fact("moved", payload={"place": 3, "home": False, "counted": 7}), "Seen at B-2 in the count of Rack B", ()),
    (fact("moved", payload={"seen": False, "counted": 7}), "Not met in the count of Rack B", ()),
    (fact("moved", payload={"place": 3, "home": True, "seen": False}), "Home from then on: B-2", ()),
    (fact("moved", payload={"home": True, "seen": False}), "Has no home from then on", ()),
    (fact("moved"), "Moved, nobody knows where to", ()),
    (fact("lent", payload={"person": "Tilda", "until": "2026-05-15"}), "Lent to Tilda until 15 May 2026", ()),
    (
        fact("reading", payload={"quantity": "gloss", "value": "82", "unit": "GU", "instrument": "meter 2"}),
        "Gloss: 82 GU",
        ("With meter 2.",),
    ),
    (fact("making", payload={"step": "second putty coat"}), "In the making: second putty coat", ()),
    (
        fact(
            "making",
            count=2,
            payload={
                "step": "Skinned",
                "work": "skin",
                "value": "4.5",
                "unit": "kg",
                "material": "tooling resin",
                "minutes": "90",
            },
        ),
        "In the making: Skinned",
        ("Skinning, 2 skins.", "4.5 kg of tooling resin.", "90 minutes."),
    ),
    (
        fact("making", payload={"step": "Sanded", "work": "sanding", "grit": "P400", "material": "wet paper"}),
        "In the making: Sanded",
        ("Sanding.", "Wet paper.", "Grit P400."),
    ),
    (fact("making", count=1, payload={"work": "filler"}), "In the making", ("Filler, 1 coat.",)),
]


@pytest.mark.parametrize(("entry", "head", "more"), LINES, ids=[head for _entry, head, _more in LINES])
def test_a_line(entry, head, more):
    said = told(entry, AROUND)
    assert (said.head, said.more) == (head, more)


@pytest.mark.parametrize("kind", sorted(KINDS - {"void"}))
def test_every_kind_has_a_line(kind):
    head = told(fact(kind), AROUND).head
    assert head
    assert "_" not in head
    assert head[0].isupper()
