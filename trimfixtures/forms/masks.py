"""What a trim mask is beside what every tool is: how it sits, what guides the cut, how often it is checked."""

from collections.abc import Mapping
from typing import Any

from django import forms
from django.utils.translation import gettext_lazy as _

from tooling.forms.catalogue import CatalogueForm
from trimfixtures.models import Mask

_FIRST = ("stage", "datum", "held_by", "check_every")
_FOLDED = ("support", "guiding", "seal_edge", "outline", "points", "note")
# As long as an outline of as many points as are taken.
LONGEST_OUTLINE = 60_000
# The words that are tapped; any other may be typed. Common practice, no source.
OFFERED: Mapping[str, tuple[Any, ...]] = {
    "datum": (_("pin and slot"), _("scribe lines"), _("seating tick"), _("edges")),
    "held_by": (_("toggle clamps"), _("vacuum"), _("screws in the waste"), _("double-sided tape")),
    "support": (_("a nest"), _("the mold"), _("battens"), _("a foam block")),
    "seal_edge": (_("resin, at once"), _("resin, within the day"), _("left bare")),
}


class MaskForm(CatalogueForm):
    """All columns of a trim mask: a few at once, the rest folded."""

    COLUMNS = (*_FIRST, *_FOLDED)
    HELP = {
        "stage": _("At which cut of a part it is used."),
        "datum": _("What puts it where it belongs on the part."),
        "check_every": _("Empty: no count."),
        "guiding": _("What the guide bushing or bearing runs along: the rim, steel-faced."),
        "outline": _(
            "The line of the net cut, all around, in mm: x and y of each point, as in 0 0; 400 0; 400 120; 0 120. "
            "The places of cuts are measured in the same."
        ),
        "points": _("Where the cut edge is checked: a name and how far along the outline in mm: bow @ 0; stern @ 900."),
    }

    def __init__(self, row: Mask, data: Any = None, *, system: str) -> None:
        super().__init__(row, data, system=system)
        plain = self.fields["outline"]
        self.fields["outline"] = forms.CharField(
            required=False, max_length=LONGEST_OUTLINE, label=plain.label, help_text=plain.help_text,
            widget=forms.Textarea(attrs={"rows": 3, "spellcheck": "false"}),
        )  # fmt: skip
        self.fields["check_every"].widget.attrs["inputmode"] = "numeric"

    def whose(self, column: str) -> str:
        """Whoever changed it last."""
        last = self.row.tool.changes.filter(field=f"trim {column}").select_related("who").order_by("-at", "-pk").first()
        return last.who.name if last is not None else ""

    @property
    def first(self) -> list[tuple[forms.BoundField, tuple[Any, ...]]]:
        """What is asked at once, each with the words that are offered for it."""
        return [(self[name], OFFERED.get(name, ())) for name in _FIRST]

    @property
    def folded(self) -> list[tuple[forms.BoundField, tuple[Any, ...]]]:
        """The rest."""
        return [(self[name], OFFERED.get(name, ())) for name in _FOLDED]

    @property
    def is_wrong_in_fold(self) -> bool:
        """Whether something that is folded away must be mended."""
        return any(self[name].errors for name in _FOLDED)
