"""The cautions of milling a plug and of what is done to it by hand. Common practice, no source."""

from django.utils.translation import gettext as _

from tooling.words.cautions import WARNING, Caution


def cautions() -> list[Caution]:
    """Of milling a plug, then of filling and sanding it."""
    return [
        Caution(
            WARNING,
            _(
                "Nobody within reach while it cuts, no gloves at a turning cutter; spindle stopped before hands go "
                "near. Plug clamped. Eyes, ears. Dust: respirator, extraction."
            ),
            _(
                "The machine’s maker says how it is guarded: nobody within its reach while it cuts, no gloves, sleeves "
                "or hair near a turning cutter, spindle stopped and locked before a cutter is changed or a plug is "
                "touched. Dust of foam, board, filler and glass harms lungs and burns: extraction, respirator, no "
                "spark, no blowing off. A long cutter bends, sings and breaks: eyes and ears covered. A plug comes "
                "loose with its base: clamp it so that it holds against the cut. What is worked out here looks at one "
                "wall only: try the way with the cutter high above the plug first."
            ),
            "milling",
            _("Milling"),
        ),
        Caution(
            WARNING,
            _(
                "Catalyst blinds: eye protection. Filler, paste and resin heat themselves: thin layers, nothing left "
                "in the pot; gloves. Sanding dust: respirator, extraction."
            ),
            _(
                "Two-part filler, board paste and resin heat themselves in a thick layer and in the pot, up to smoke "
                "and fire: layers as thin as the data sheet says; what is left goes the shop’s own way for resin "
                "waste. Peroxide catalyst blinds: eye protection, and never mixed directly with accelerator. Resin, "
                "hardener and primer sensitise the skin, their vapours burn and harm: gloves, ventilation, no flame. "
                "Sanding: respirator, extraction, and only what is hard as its sheet says."
            ),
            "filling",
            _("Filling and sanding"),
        ),
    ]
