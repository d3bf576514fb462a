"""The cautions of trimming: each way of cutting has its own, and what is not done is not warned of."""

import pytest

from trimfixtures.models import Feature
from trimfixtures.words import cautions
from trimfixtures.words.cautions import at_work, comes_free

THREE_LINES = 165  # of a phone, below the signal word
TURNING = ("respirator", "eyes, ears, extraction", "no blowing off", "motors, sockets", "no gloves at a turning")
RESIN = ("not hard yet sensitises", "gloves, ventilation, no flame")
ROUTER = ("turning cutter", "against its turn", "cutter or guide bushing is changed", "how fast it may turn")
SAW = ("guard on, riving knife", "in line with the blade")


@pytest.mark.parametrize(
    ("methods", "said", "not_said"),
    [
        ({"guide_bushing"}, (*TURNING, *ROUTER), ("drill", "blade", "Knife", "scribe")),
        ({"bearing", "drill"}, (*TURNING, *ROUTER, "A drill grabs and spins"), ("blade", "Knife")),
        ({"drill"}, (*TURNING, "turning drill", "before a drill is changed"), ("router", "against", "cutter")),
        ({"saw", "scribe"}, (*TURNING, *SAW, "before a blade is changed", "point stabs"), ("router", "drill")),
        ({"knife"}, ("no hand in its way", *RESIN), ("no gloves", "turning", "extraction", "Plug")),
        ({"knife", "drill"}, (*TURNING, *RESIN, "Gloves off again before anything turns"), ("against its turn",)),
        ({"scribe"}, ("point stabs",), ("turning", "Knife", "respirator")),
        (set(), (*TURNING, *ROUTER, *SAW), ("drill", "Knife")),
    ],
)
def test_it_warns_of_what_is_done_and_of_nothing_else(methods, said, not_said):
    (one,) = at_work(methods)
    assert [words for words in said if words not in one.text] == []
    assert [words for words in not_said if words in one.text] == []
    assert len(one.short) <= THREE_LINES
    assert str(one.signal) == ("CAUTION" if methods == {"scribe"} else "WARNING")


def test_in_short_dust_stands_first_and_the_blade_by_its_name():
    assert at_work({"bearing"})[0].short.startswith("Respirator, eyes, ears, extraction. No gloves at a turning cutter")
    assert "no hand in line with the blade" in at_work({"saw"})[0].short
    assert "Respirator" not in at_work({"knife"})[0].short


def test_folded_away_for_one_way_of_cutting_another_stays_open():
    assert {one.about for methods in ("saw", "knife", "bearing") for one in at_work({methods})} == {
        "trim_saw", "trim_knife", "trim_router",
    }  # fmt: skip


@pytest.mark.parametrize(
    ("seal", "sealed"), [("resin, two coats", True), ("No resin: paint", True), ("Left bare.", False), ("", False)]
)
def test_resin_is_warned_of_where_the_edge_is_sealed(seal, sealed):
    found = [one.about for one in at_work({"drill"}, [seal])]
    assert found == ["trim_drill", *(["seal"] if sealed else [])]
    said = cautions.sealing().text
    for words in ("blinds", "never mixed directly with accelerator", "sensitise the skin", "no flame", "heats itself"):
        assert words in said


@pytest.mark.parametrize(
    ("kind", "method", "kept", "said"),
    [
        ("cut_out", "guide_bushing", "mask_side", "Hold or tab the piece that comes free. Lift nothing"),
        ("cut_out", "bearing", "far_side", "Here the part itself comes free: hold or tab it. Lift nothing"),
        ("edge", "saw", "far_side", "Here the part itself comes free"),
        ("cut_out", "knife", "mask_side", "Hold or tab the piece that comes free."),
        ("hole", "drill", "mask_side", ""),
        ("slot", "guide_bushing", "mask_side", ""),
        ("mark", "scribe", "far_side", ""),
    ],
)
def test_what_comes_free_is_held(kind, method, kept, said):
    found = comes_free(Feature(kind=kind, method=method, kept=kept))
    assert found.startswith(said)
    assert bool(found) == bool(said)
    assert "cutter" not in found or method != "knife"
