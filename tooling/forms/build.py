"""A tool that is begun in the shop: what is known of it before there is anything to see."""

from collections.abc import Sequence
from typing import Any

from django.utils.translation import gettext_lazy as _

from tooling.forms.catalogue import CatalogueForm
from tooling.models import Kind, Tool

# What one tool has of another that is built like it.
LIKE = ("release_system", "construction", "length_mm", "width_mm", "height_mm", "owner", "owner_ref", "design_ref")
_ALL = (
    "code", "name", "made_from", "in_place_of", "place", "release_system", "construction", "length_mm", "width_mm",
    "height_mm", "owner", "owner_ref", "design_ref",
)  # fmt: skip
_FOLDED = ("in_place_of", "construction", "length_mm", "width_mm", "height_mm", "owner", "owner_ref", "design_ref")


class BuildForm(CatalogueForm):
    """`row`: the tool as it is proposed, of its kind, unsaved."""

    HELP = {
        "code": _("1 to 16 of the letters A to Z, digits, hyphen and full stop, as it is to stand on its tag."),
        "made_from": _("The code of the plug or mold that it is to be pulled from."),
        "in_place_of": _("The code of the worn or retired tool whose work it goes on with."),
        "owner": _("Empty: the shop’s own."),
    }

    def __init__(self, row: Tool, data: Any = None, *, system: str) -> None:
        """A tool that is proposed with its kind."""
        self.kind = row.kind
        super().__init__(row, data, system=system)

    def columns(self) -> Sequence[str]:
        """A trim mask has no release surface."""
        return [name for name in _ALL if self.kind in Kind.WITH_SURFACE or name != "release_system"]

    def said(self) -> dict[str, Any]:
        """All of it: what was proposed and left as it was is meant too."""
        return {"kind": self.kind, **{name: self.cleaned_data[name] for name in self.columns()}}

    def asked(self) -> list[Any]:
        """The fields that stand open."""
        return [self[name] for name in self.columns() if name not in _FOLDED]

    def folded(self) -> list[Any]:
        """Those that are folded away until somebody wants them."""
        return [self[name] for name in self.columns() if name in _FOLDED]

    @property
    def wrong_in_fold(self) -> bool:
        """Whether something is wrong in what is folded away."""
        return any(name in self.errors for name in _FOLDED)
