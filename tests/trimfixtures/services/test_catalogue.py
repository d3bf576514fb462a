"""Cutters, trim masks and their cuts are written down, changed, put in order and taken out; what was is kept."""

from decimal import Decimal

import pytest
from django.core.exceptions import ValidationError

from shared.clock import now
from shared.errors import Refused
from shared.units import US, read, unit_of
from tooling.models import Kind, ToolChange
from tooling.services.tools import add_tool
from tooling.words.about import changed
from trimfixtures.models import Cutter, Feature, Mask
from trimfixtures.services import cutters, features
from trimfixtures.services.masks import describe

pytestmark = pytest.mark.django_db
SQUARE = "0 0; 900 0; 900 300; 0 300"
RIM = {"kind": "cut_out", "method": "guide_bushing", "length_mm": 300, "width_mm": 200, "corner_mm": 20}


def inches(text):
    return read(text, unit_of("mm", US))


@pytest.fixture
def who(lead):
    return {"by": lead, "at": now()}


@pytest.fixture
def mask(who):
    tool = add_tool(code="HULL-TRIM", name="Hull", kind=Kind.TRIM_MASK)
    return describe(tool, **who, outline=SQUARE, stage="net")


@pytest.fixture
def taken(who):
    """A cutter and a guide bushing."""
    return {
        "cutter": cutters.add_cutter(code="c-6", kind="cutter", nominal_mm=6, **who),
        "bushing": cutters.add_cutter(code="B-16", kind="bushing", nominal_mm=16, **who),
    }


def changes(tool, units="metric"):
    said = (changed(one, units) for one in ToolChange.objects.filter(tool=tool).order_by("pk"))
    return [(one.what, one.before, one.after) for one in said]


def test_a_cutter_is_kept_with_what_was_changed(who):
    cutter = cutters.add_cutter(code="c-6", kind="cutter", nominal_mm=inches("1/4"), **who)
    cutters.change_cutter(cutter, measured_mm=Decimal("6.32"), state="worn", nominal_mm=cutter.nominal_mm, **who)
    cutters.change_cutter(cutter, state="worn", **who)
    assert (cutter.code, cutter.nominal_mm, cutter.state) == ("C-6", Decimal("6.35"), "worn")
    kept = list(cutter.changes.order_by("pk").values_list("field", "before", "after"))
    assert kept == [("", "", "C-6"), ("measured_mm", "", "6.32"), ("state", "here", "worn")]


@pytest.mark.parametrize(
    ("columns", "field", "says"),
    [
        ({"measured_mm": Decimal(0)}, "measured_mm", "above zero"),
        ({"code": "C-7"}, "code", "keeps its code"),
        ({"nominal_mm": 16}, "nominal_mm", "HULL-TRIM takes it for “rim”: The cutter (16 mm) is not smaller"),
        ({"kind": "bushing"}, "kind", "takes it for “rim”: C-6 is a guide bushing"),
    ],
)
def test_a_change_of_a_cutter_that_cannot_be_leaves_it(who, mask, taken, columns, field, says):
    features.add_feature(mask, name="rim", **RIM, **taken, **who)
    with pytest.raises((ValidationError, Refused), match=says.replace("(", r"\(").replace(")", r"\)")) as refused:
        cutters.change_cutter(taken["cutter"], **columns, **who)
    assert field in getattr(refused.value, "message_dict", {getattr(refused.value, "field", ""): ""})
    assert Cutter.objects.get(code="C-6").nominal_mm == 6


def test_a_trim_mask_is_described_and_described_anew(who, mask):
    again = describe(mask.tool, **who, stage="rough", datum="pin and slot", check_every=25)
    assert again.pk == mask.pk
    assert changes(mask.tool) == [
        ("Outline", "", SQUARE),
        ("Stage", "", "net cut"),
        ("Stage", "net cut", "rough cut"),
        ("Datum", "", "pin and slot"),
        ("Checked every so many parts", "", "25"),
    ]
    with pytest.raises(Refused, match="OTHER is a mold"):
        describe(add_tool(code="OTHER", name="Mold", kind=Kind.MOLD), **who, stage="net")


@pytest.mark.parametrize(
    ("columns", "field", "says"),
    [
        ({"outline": "0 0; 900 300; 900 0; 0 300"}, "outline", "point 1 meets the one that begins at point 3"),
        ({"outline": "0 0; 900"}, "outline", "Point 2 of the outline, “900”"),
        ({"points": "bow @ 0; stern @ 2400.5"}, "points", "“stern” is off the outline: 2400.5 mm along"),
        ({"points": "bow @ 0: in"}, "points", "say here only where"),
        ({"points": "bow @ 0; Bow @ 9"}, "points", "Two points are called “Bow”"),
        ({"outline": "0 0; 100 0; 100 100; 0 100"}, "outline", "Cut “rim”: 450 mm, 150 mm is off the outline"),
        ({"check_every": 0}, "check_every", "1 or more"),
    ],
)
def test_what_a_trim_mask_cannot_say_is_refused(who, mask, taken, columns, field, says):
    features.add_feature(mask, name="rim", x_mm=450, y_mm=150, **RIM, **taken, **who)
    with pytest.raises(ValidationError) as refused:
        describe(mask.tool, **who, **columns)
    assert says in refused.value.message_dict[field][0]
    assert Mask.objects.get().outline == SQUARE


def test_cuts_come_in_before_the_edge_and_are_put_in_order(who, mask, taken):
    edge, rim = (features.add_feature(mask, name=name, **what, **taken, **who) for name, what in (
        ("edge", {"kind": "edge", "method": "guide_bushing"}), ("rim", RIM),
    ))  # fmt: skip
    features.put_in_order(mask, [rim.pk, edge.pk], **who)
    features.add_feature(mask, name="drain", kind="hole", method="drill", cutter_mm=8, **who)
    assert [(cut.name, cut.order) for cut in mask.features.in_order()] == [("rim", 1), ("drain", 2), ("edge", 3)]
    with pytest.raises(Refused, match="Somebody changed the cuts meanwhile"):
        features.put_in_order(mask, [rim.pk, edge.pk], **who)


def test_two_cuts_never_have_one_number(who, mask):
    """What was taken out comes back where others have moved up since; a sheet takes a number once."""
    a, b, c = (features.add_feature(mask, kind="mark", method="scribe", name=name, **who) for name in "abc")
    features.put_in_order(mask, [a.pk, b.pk, c.pk], **who)
    row = features.remove_feature(Feature.objects.get(pk=b.pk), **who)
    features.put_in_order(mask, [a.pk, c.pk], **who)
    features.put_back(row, **who)
    assert [(cut.name, cut.order) for cut in mask.features.in_order()] == [("a", 1), ("b", 2), ("c", 3)]


def test_a_cut_is_judged_by_the_size_that_its_cutter_has_now(who, mask, taken):
    """Its row is read anew and locked, since somebody may change it at this moment."""
    Cutter.objects.filter(code="C-6").update(nominal_mm=18)
    with pytest.raises(ValidationError, match="not smaller"):
        features.add_feature(mask, name="rim", **RIM, **taken, **who)


def test_a_cut_that_is_changed_taken_out_and_put_back_is_told(who, mask, taken):
    rim = features.add_feature(mask, name="rim", **RIM, **taken, **who)
    before = len(changes(mask.tool))
    features.change_feature(rim, width_mm=inches("8"), tolerance_mm=None, **who)
    row = features.remove_feature(rim, **who)
    assert not Feature.objects.exists()
    back = features.put_back(row, **who)
    assert (back.width_mm, back.as_typed, back.cutter) == (Decimal("203.2"), {"width_mm": ["8", "in"]}, taken["cutter"])
    told = changes(mask.tool, US)[before:]
    assert told[0] == ("Cut “rim”", "Width: 7.874 in", "Width: 8 in")
    assert told[1][0].startswith("Cut “rim” taken out: Kind: cut-out, Method: router with a guide bushing, Cutter: C-6")
    assert told[2][0].startswith("Cut “rim” added: ")
