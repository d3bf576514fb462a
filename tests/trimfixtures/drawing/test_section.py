"""The picture of a section: what stands where, worked out by hand, and that words say it without colour."""

import re
from decimal import Decimal
from types import SimpleNamespace
from xml.etree import ElementTree

import pytest

from shared.units import METRIC, US
from tooling.drawing.ink import on_paper
from trimfixtures.drawing.section import section
from trimfixtures.models import Feature

NS = "{http://www.w3.org/2000/svg}"


def cut(method, cutter=None, guide=None, kind="edge", **of):
    return SimpleNamespace(
        feature=Feature(kind=kind, method=method, name="Rail <port>", **of),
        cutter_mm=None if cutter is None else Decimal(cutter),
        bushing_mm=None if guide is None else Decimal(guide),
    )


def pieces(svg, kind):
    """From where to where each piece of a kind stands, as far as its straight ends say."""
    found = []
    for group in ElementTree.fromstring(svg).iter(f"{NS}g"):
        if group.get("class") == kind:
            xs = [float(x) for x in re.findall(r"[ML]([\d.-]+) ", group.find(f"{NS}path").get("d"))]
            found.append((min(xs), max(xs)))
    return found


def words(svg):
    return [one.text.replace("\N{NO-BREAK SPACE}", " ") for one in ElementTree.fromstring(svg).iter(f"{NS}text")]


def test_outside_stands_to_scale():
    # 25.4 mm take 150: 5.9055 a mm. The edge stands at 98: the part ends at 98 + 6.35*5.9055 = 135.5, what is cut off
    # begins at 98 + 19.05*5.9055 = 210.5.
    svg = section(cut("guide_bushing", "12.7", "25.4"), US)
    assert pieces(svg, "p-over")[0][1] == pytest.approx(98)
    assert pieces(svg, "p-kept")[0][1] == pytest.approx(135.5, abs=0.1)
    assert pieces(svg, "p-off")[0][0] == pytest.approx(210.5, abs=0.1)
    said = words(svg)
    assert {"trim mask", "kept", "cut off", "guide bushing 1 in", "cutter 1/2 in"} <= set(said)
    assert "guiding edge to cut edge 1/4 in" in said


def test_inside_shows_both_sides_of_the_opening():
    # Opening 36 takes 150: 4.1667 a mm. Kept ends at 98 + 3*4.1667 = 110.5 and goes on at 98 + 33*4.1667 = 235.5.
    # What falls out: 98 + 9*4.1667 = 135.5 to 98 + 27*4.1667 = 210.5. The other side of the trim mask: 98 + 150 = 248.
    svg = section(cut("guide_bushing", "6", "12", kind="cut_out", width_mm=Decimal(30)), METRIC)
    assert [pieces(svg, "p-kept")[0][1], pieces(svg, "p-kept")[1][0]] == pytest.approx([110.5, 235.5], abs=0.1)
    assert pieces(svg, "p-off")[0] == pytest.approx((135.5, 210.5), abs=0.1)
    assert pieces(svg, "p-over")[1][0] == pytest.approx(248, abs=0.1)
    assert "opening of the trim mask 36 mm" in words(svg)
    measured = {"kind": "cut_out", "opening_mm": Decimal(38)}
    svg = section(cut("guide_bushing", "6", "12", width_mm=Decimal(30), **measured), METRIC)
    assert "wanted opening of the trim mask 36 mm" in words(svg)
    assert "measured opening of the trim mask 38 mm" in words(
        section(cut("guide_bushing", "6", "12", **measured), METRIC)
    )


def test_a_slot_that_is_all_cut_away_shows_the_way_back_and_names_both_sides():
    # Bushing 16, cutter 6, slot 12: offset 5, opening 22 takes 150: 6.8182 a mm. The way back: 22 - 11 = 11 to 17.
    svg = section(cut("guide_bushing", "6", "16", kind="slot", width_mm=Decimal(12)), METRIC)
    back = re.findall(r"M([\d.]+) 80.0V", re.search(r'"way-back"><path[^>]*', svg)[0])
    assert [float(x) for x in back] == pytest.approx([98 + 11 * 6.8182, 98 + 17 * 6.8182], abs=0.1)
    assert (words(svg).count("kept"), words(svg).count("trim mask")) == (2, 2)
    assert "nothing falls out" in svg


def test_far_side_keeps_the_piece_beyond():
    # 16 mm would take 9.375 a mm, the most is 9. Cut off ends at 98 + 5*9 = 143, kept begins at 98 + 11*9 = 197.
    svg = section(cut("guide_bushing", "6", "16", kept="far_side"), METRIC)
    assert pieces(svg, "p-off")[0][1] == pytest.approx(143, abs=0.1)
    assert pieces(svg, "p-kept")[0][0] == pytest.approx(197, abs=0.1)
    assert "beyond the cutter" in svg


def test_a_bearing_of_its_cutters_width_cuts_flush():
    svg = section(cut("bearing", "12", "12"), METRIC)
    assert pieces(svg, "p-kept")[0][1] == pieces(svg, "p-over")[0][1] == pytest.approx(98)
    assert "cut edge flush with the guiding edge" in words(svg)


def test_a_wide_opening_is_drawn_at_one_side_with_its_width_in_words():
    svg = section(cut("guide_bushing", "6.35", "19.05", kind="cut_out", width_mm=Decimal("101.6")), US)
    assert len(pieces(svg, "p-over")) == 1
    assert "opening of the trim mask 4 1/2 in" in words(svg)


@pytest.mark.parametrize(
    ("method", "sizes", "of", "said"),
    [
        ("scribe", (), {"kind": "mark"}, "kept"),
        ("scribe", (), {}, "off later"),
        ("knife", (), {}, "cut off"),
        ("saw", ("1.5",), {}, "blade 1.5 mm"),
        ("drill", ("6", "10"), {"kind": "hole", "drill_bushing": "slip", "backing": "plywood"}, "plywood"),
        ("drill", ("4",), {"kind": "hole", "backing": "a board " * 40}, "backing"),
    ],
)
def test_every_way_of_cutting_has_its_picture(method, sizes, of, said):
    svg = section(cut(method, *sizes, **of), METRIC)
    assert said in words(svg)
    box = ElementTree.fromstring(svg)
    assert box.get("aria-label").startswith("Rail <port> in section: ")
    assert box.find(f"{NS}desc").text


def test_no_size_no_picture_and_paper_is_black():
    assert section(cut("guide_bushing", None, "12"), METRIC) == ""
    black = on_paper(section(cut("guide_bushing", "6", "12"), METRIC))
    assert set(re.findall(r"#[0-9a-f]{3,6}", black)) == {"#000", "#fff"}
    assert "clip" not in black
