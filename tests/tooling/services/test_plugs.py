"""The record of a plug and its passes: what is kept, what is refused, the order, out and back, and one set up alike."""

from datetime import timedelta
from decimal import Decimal

import pytest
from django.core.exceptions import ValidationError

from shared.errors import Refused
from tests.tooling.rows import NOON, make_tool
from tooling.models import MillingPass, Picture, PlugRecord, Summary
from tooling.services import plugs
from tooling.services.plug_rules import wrong_with_pass, wrong_with_record
from tooling.words.about import changed
from tooling.words.plug_changes import called

pytestmark = pytest.mark.django_db


@pytest.fixture
def plug():
    return plug_called("P-1")


def plug_called(code, kind="plug"):
    tool = make_tool(code, kind)
    Summary.objects.create(tool=tool)
    return tool


def add(plug, lead, name="", **columns):
    said = {"kind": "finishing", "ball_diameter_mm": Decimal(20), "step_over_mm": Decimal("0.8"), **columns}
    return plugs.add_pass(plug, by=lead, at=NOON, name=name, **said)


def order(plug):
    return [one.name for one in plug.milling_passes.all()]


def said(plug, system="metric"):
    return [" | ".join(filter(None, (one.what, one.before, one.after))) for one in (
        changed(change, system) for change in plug.changes.order_by("pk")
    )]  # fmt: skip


def test_it_is_described_and_what_stood_before_is_kept(plug, lead):
    plugs.describe(plug, by=lead, at=NOON, base="frame", tilt_deg=Decimal(12))
    read = PlugRecord.objects.get()
    plugs.describe(plug, by=lead, at=NOON, read=read, tilt_deg=Decimal(14), zero="dowel")
    assert said(plug) == ["Base | frame", "Tilt | 12°", "Tilt | 12° | 14°", "Zero | dowel"]
    with pytest.raises(Refused, match="Somebody changed this a moment ago"):
        plugs.describe(plug, by=lead, at=NOON, read=read, tilt_deg=Decimal(2))


def test_only_of_a_plug_and_with_its_own_picture(plug, lead):
    with pytest.raises(Refused, match="M is a mold"):
        plugs.add_pass(plug_called("M", "mold"), by=lead, at=NOON, kind="roughing")
    other = Picture.objects.create(tool=plug_called("P-2"), width=1, height=1, position=1, added_at=NOON)
    with pytest.raises(Refused, match="a picture of another tool"):
        plugs.describe(plug, by=lead, at=NOON, picture=other)
    with pytest.raises(ValidationError, match="a tilt lies between"):
        plugs.describe(plug, by=lead, at=NOON, tilt_deg=Decimal(90))
    assert not PlugRecord.objects.exists()
    assert not plug.changes.exists()


def test_passes_follow_each_other_and_the_same_form_again_adds_none(plug, lead):
    first, again = (add(plug, lead, "hull", place=1) for _time in range(2))
    assert (again.pk, MillingPass.objects.count()) == (first.pk, 1)
    add(plug, lead, "deck", place=1)  # somebody else was quicker: it goes behind
    assert order(plug) == ["hull", "deck"]
    plugs.put_in_order(plug, [one.pk for one in reversed(plug.milling_passes.all())], by=lead, at=NOON)
    assert order(plug) == ["deck", "hull"]
    with pytest.raises(Refused, match="Somebody changed the passes meanwhile"):
        plugs.put_in_order(plug, [first.pk], by=lead, at=NOON)
    assert (
        said(plug, "us")[0] == "Pass “finishing, hull” added: Ball diameter: 0.787 in, Step-over: 0.031 in, "
        "Cuts both ways: yes"
    )
    assert said(plug)[-1] == "Order of the passes | finishing, hull; finishing, deck | finishing, deck; finishing, hull"


def test_a_pass_is_changed_taken_out_and_put_back(plug, lead):
    one = add(plug, lead, "hull")
    add(plug, lead, "deck")
    plugs.change_pass(one, by=lead, at=NOON, read=one, minutes_taken=Decimal(95), both_ways=False)
    assert said(plug)[-1] == (
        "Pass “finishing, hull” | Minutes it took: not said, Cuts both ways: yes | Minutes it took: 95, "
        "Cuts both ways: no"
    )
    gone = plugs.remove_pass(one, by=lead, at=NOON)
    assert order(plug) == ["deck"]
    plugs.put_back(gone, by=lead, at=NOON + timedelta(minutes=1))
    assert order(plug) == ["hull", "deck"]
    with pytest.raises(Refused, match="there already"):
        plugs.put_back(gone, by=lead, at=NOON)
    with pytest.raises(ValidationError, match="only up to a step-over of 10 mm"):
        plugs.change_pass(one, by=lead, at=NOON, step_over_mm=Decimal(11), slope_deg=Decimal(60))


def test_the_next_one_is_set_up_alike(plug, lead):
    plugs.describe(plug, by=lead, at=NOON, base="frame", tilt_deg=Decimal(12))
    shape = dict.fromkeys(MillingPass.OF_ITS_SHAPE, Decimal(60))
    add(plug, lead, "hull", minutes_taken=Decimal(90), holder_diameter_mm=Decimal(50), note="chatters", **shape)
    new = plug_called("P-2")
    plugs.set_up_alike(new, like=plug, by=lead, at=NOON)
    row = new.milling_passes.get()
    assert (called(row), row.step_over_mm, row.minutes_taken) == ("finishing, hull", Decimal("0.8"), None)
    assert (row.holder_diameter_mm, row.note, *(getattr(row, name) for name in shape)) == (50, "", *[None] * 5)
    assert (new.plug.base, new.plug.tilt_deg) == ("frame", 12)
    assert said(new) == ["Set up like P-1"]
    for tool, like, why in ((new, plug, "described already"), (plug_called("P-3"), plug_called("P-4"), "Nobody has")):
        with pytest.raises(Refused, match=why):
            plugs.set_up_alike(tool, like=like, by=lead, at=NOON)


@pytest.mark.parametrize(
    ("values", "column", "units", "says"),
    [
        ({"ball_diameter_mm": -1}, "ball_diameter_mm", "metric", "-1 mm: a size is above zero."),
        ({"ball_diameter_mm": "12.7", "step_over_mm": 13}, "step_over_mm", "us", "only up to a step-over of 1/2 in."),
        ({"ball_diameter_mm": 20, "stickout_mm": 9}, "stickout_mm", "metric", "at least 10 mm out of its holder"),
        ({"slope_deg": 90}, "slope_deg", "metric", "90°: a slope goes from 0° up to below 90°."),
        ({"wall_angle_deg": 0}, "wall_angle_deg", "metric", "0°: a wall stands at more than 0°"),
        ({"feed_mm_min": 0}, "feed_mm_min", "metric", "A feed is above zero."),
        ({"minutes_taken": 0}, "minutes_taken", "metric", "above zero, or leave it empty"),
    ],
)
def test_what_cannot_be_is_said_in_the_reader_s_units(values, column, units, says):
    wrong = wrong_with_pass({name: Decimal(value) for name, value in values.items()}, units)
    assert list(wrong) == [column]
    assert says in wrong[column]


def test_what_is_wrong_already_is_not_said_again():
    assert list(wrong_with_pass({"ball_diameter_mm": Decimal(0), "step_over_mm": Decimal(9)})) == ["ball_diameter_mm"]
    assert wrong_with_record({"tilt_deg": Decimal(-89)}) == {}
