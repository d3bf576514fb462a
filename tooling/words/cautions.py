"""The cautions that the program itself shows, short and where the work is done.

The signal words are those of ANSI Z535.4: WARNING could kill or harm badly, CAUTION could harm, NOTICE could spoil.
"""

from dataclasses import dataclass

from django.utils.functional import Promise
from django.utils.translation import gettext_lazy as _

WARNING, CAUTION = _("WARNING"), _("CAUTION")


@dataclass(frozen=True, slots=True)
class Caution:
    """A signal word and what it is about."""

    signal: Promise
    text: Promise


CAUTIONS = {
    "coats": Caution(
        WARNING,
        _(
            "Wax, solvent and release liquids burn and their vapours harm. No flame, ventilation on, gloves. Solvent "
            "rags go in a closed can; catalysed resin never does, it heats itself. A mold wet with solvent does not "
            "go in an oven."
        ),
    ),
    "lay_up": Caution(
        WARNING,
        _(
            "Peroxide catalyst blinds: eye protection, and never mixed directly with accelerator. Styrene and resin "
            "harm lungs and skin: ventilation, gloves. Resin left in the pot heats itself."
        ),
    ),
    "pull": Caution(CAUTION, _("Compressed air and water pop parts, and wedges slip: eyes and face.")),
    "strip": Caution(
        WARNING,
        _(
            "Solvents burn and their vapours harm: no flame, ventilation, gloves, eyes. Sanding dust of glass and "
            "carbon: respirator, and carbon's also conducts. Solvent rags in a closed can."
        ),
    ),
}
EVERYWHERE = _(
    "Follow the supplier’s data sheet and the local code. Where a part is safety-critical the licensed person decides, "
    "not this program."
)
