"""Trim masks, their cuts, and cutters as sheets of the shop's workbook; `tooling` reads and writes them."""

from django.utils.translation import gettext_lazy as _

from tooling.services.moving_in import examples
from tooling.services.sheets import registry

_TOOL = {
    "code": "DECK-2-TRIM",
    "kind": "trim_mask",
    "name": "Trim mask, deck with two hatches",
    "place": "A-2",
    "made_from": "DECK-2A",
}
_CUTTERS = (
    {"code": "C-6", "kind": "cutter", "nominal_mm": 6, "measured_mm": 5.98, "note": "two flutes, carbide"},
    {"code": "B-16", "kind": "bushing", "nominal_mm": 16},
)
_MASK = {
    "tool": "DECK-2-TRIM",
    "stage": "net",
    "datum": "pin at the bow, slot at the stern",
    "held_by": "four toggle clamps",
    "support": "cradle under the deck",
    "seal_edge": "brush of resin",
    "check_every": 25,
    "outline": "0 0; 5200 0; 5200 620; 0 620",
    "points": "bow @ 0; stern @ 5200",
}
_FEATURES = (
    {
        "mask": "DECK-2-TRIM",
        "order": 1,
        "name": "front hatch",
        "kind": "cut_out",
        "method": "guide_bushing",
        "cutter": "C-6",
        "bushing": "B-16",
        "length_mm": 420,
        "width_mm": 260,
        "corner_mm": 40,
        "x_mm": 1400,
        "y_mm": 310,
        "tolerance_mm": 0.5,
    },
    {"mask": "DECK-2-TRIM", "order": 2, "name": "edge", "kind": "edge", "method": "saw", "finish": "rough"},
)


def make_known() -> None:
    """Makes the sheets known, each behind those that its cells name, with an example for the form to fill in."""
    from trimfixtures.services.sheets import cutters, mask_features, masks  # they need the models

    registry.register(cutters.SHEET, after="tools")
    registry.register(masks.SHEET, after=cutters.SHEET.name)
    registry.register(mask_features.SHEET, after=masks.SHEET.name)
    examples.register("tools", _TOOL)
    examples.register(
        cutters.SHEET.name, *_CUTTERS,
        says=_("Cutters and guide bushings, as they are meant to be and as they measure: diameters in mm."),
    )  # fmt: skip
    examples.register(
        masks.SHEET.name, _MASK,
        says=_(
            "What a trim mask is beside its row in “tools”: how it sits, the line of the net cut (x y; x y; … in mm) "
            "and how often its cut edge is checked."
        ),
    )  # fmt: skip
    examples.register(
        mask_features.SHEET.name, *_FEATURES,
        says=_(
            "The cuts of each trim mask in cutting order, as they are wanted in the part: with what, guided by what, "
            "where, how large (mm)."
        ),
    )  # fmt: skip
