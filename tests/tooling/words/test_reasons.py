"""No code falls through: every reason and every flag that the rules can give has its words."""

import ast
from pathlib import Path

import pytest

import tooling.calc
from tests.tooling.words.samples import FIVE_COATS
from tooling.calc.status import ORDER, Need
from tooling.words.flags import FLAGS, flag_words
from tooling.words.reasons import WHY, mend, reason, reasons

USABLE = {"last_pull", "ready"}
RULES = {
    "held": "came_off tool_damaged inspection_failed hold reinstated",
    "needs_strip": "strip_came_off strip_foreign_coat strip_release_system strip_sealer idle_long build_up touch_ups "
    "pulls_since_preparation",
    "needs_touch_up": "came_off idle coat_age spot_bare release_check wax_wanted abandoned count count_unknown "
    "unfinished",
    "not_prepared": "no_release_system",
}


def flags_in_the_rules() -> set[str]:
    """Every name that the rules hand to `flag(...)`, and those laid on earlier entries."""
    found = set()
    for path in Path(tooling.calc.__path__[0]).glob("*.py"):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Call) and getattr(node.func, "attr", "") == "flag":
                found.update(arg.value for arg in node.args if isinstance(arg, ast.Constant))
    return found | {"before_starting_state", "pulled_early", "after_retirement"}


def test_every_flag_of_the_rules_is_said():
    assert flags_in_the_rules() == set(FLAGS)


@pytest.mark.parametrize("flag", FLAGS)
def test_a_flag_is_a_whole_sentence(flag):
    words = flag_words(flag)
    assert words[0].isupper()
    assert words.endswith(".")
    assert "_" not in words


def test_every_reason_of_the_rules_is_said():
    assert {status: set(words) for status, words in WHY.items()} == {s: set(w.split()) for s, w in RULES.items()}


@pytest.mark.parametrize(("status", "code"), [(status, code) for status, codes in WHY.items() for code in codes])
def test_a_reason_is_a_part_of_a_sentence(status, code):
    words = reason(status, code)
    assert words
    assert words[0].islower()
    assert not words.endswith(".")
    assert "_" not in words


def test_reasons_keep_their_order():
    assert reasons("held", ["hold", "came_off"]) == ["somebody stopped it", "a part came off too badly"]


@pytest.mark.parametrize("status", [status for status in ORDER if status not in USABLE])
def test_whatever_stops_a_use_can_be_mended(status):
    assert mend(status, (), FIVE_COATS, "16:10").endswith(".")


def test_what_mends():
    assert mend("needs_strip", ("build_up",), Need(1, 3)) == (
        "Strip it to bare, then put on one coat of sealer, then three coats."
    )
    assert mend("curing", (), None, "16:10") == "Wait until 16:10."
    assert mend("not_prepared", ("no_release_system",), None) == "Choose its release recipe."
    assert [mend(status, (), None) for status in USABLE] == ["", ""]
