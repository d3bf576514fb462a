"""What was changed of a tool set, as a person reads it on the page of the part."""

import pytest

from tooling.models import SetLine, Tool
from tooling.words.set_changes import as_kept, set_change

LINES = {
    "plain": {},
    "all": {"order": 2, "required": False, "alternative": "deck", "confirmed": False},
    "numbered": {"order": 1},
    "to confirm": {"confirmed": False},
    "word": {"alternative": "deck, old", "required": False},
}


@pytest.mark.parametrize(
    ("before", "after", "says"),
    [
        ("", "plain", ("DECK-2A put in", "", "")),
        ("", "all", ("DECK-2A put in, no. 2, optional, one of “deck”, not confirmed", "", "")),
        ("all", "", ("DECK-2A taken out", "", "")),
        ("to confirm", "plain", ("DECK-2A confirmed", "", "")),
        ("plain", "numbered", ("DECK-2A", "no number", "no. 1")),
        ("numbered", "word", ("DECK-2A", "no. 1, required, no alternative", "no number, optional, one of “deck, old”")),
        ("all", "plain", ("DECK-2A", "no. 2, optional, one of “deck”, not confirmed",
                          "no number, required, no alternative, confirmed")),
    ],
)  # fmt: skip
def test_a_change_in_words(before, after, says):
    kept = [
        as_kept(SetLine(role="mold", tool=Tool(code="DECK-2A"), **LINES[one])) if one else "" for one in (before, after)
    ]
    said = set_change(*kept)
    assert (said.what, said.before, said.after) == says


def test_hardware_and_a_beginning_in_words():
    said = set_change("hardware 8 bolts, long", "hardware 10 bolts")
    assert (said.what, said.before, said.after) == ("10 bolts", "8 bolts, long", "10 bolts")
    assert set_change("", "begun from SK520-DECK A").what == "begun with the set of SK520-DECK A"
    assert set_change("", "nothing of ours").after == "nothing of ours"
