"""Places: one that is changed, and what was seen at one."""

from typing import Any

from django.core.exceptions import ValidationError
from django.utils.translation import gettext_lazy as _

from tooling.forms.catalogue import CatalogueForm, ToolField
from tooling.forms.deeds.base import DeedForm
from tooling.models import Place, Tool
from tooling.selectors import scans


class PlaceForm(CatalogueForm):
    """A place."""

    COLUMNS = ("code", "name", "kind", "parent", "height_mm", "max_load_kg")
    HELP = {
        "code": _("Another code keeps the old one: a tag that is stuck on still leads here."),
        "kind": _("A rack is drawn to its shelves, a shelf to its bays; what is out of the house is not here."),
        "parent": _("The rack or room that it is part of."),
        "height_mm": _("How high it lies above the floor."),
        "max_load_kg": _("What it may carry at most."),
    }


class MetField(ToolField):
    """A tool as ToolField has it; where there is none, the place of that code, whose shelf is the next."""

    def clean(self, value: Any) -> Tool | Place | None:  # type: ignore[override]
        """The tool, or the place."""
        try:
            return super().clean(value)
        except ValidationError:
            if there := scans.place(str(value or "")):
                return there
            raise


class SeenForm(DeedForm):
    """A tool that was met at a place."""

    tool = MetField(label=_("Scan or type the next tag"), max_length=300, error_messages={"required": _("Which tool?")})

    def __init__(self, *args: Any, **more: Any) -> None:
        super().__init__(*args, **more)
        keys = {"autocapitalize": "characters", "autocomplete": "off", "spellcheck": "false"}
        # A keyboard that a scanner is types where the cursor is; of itself this opens no keyboard on a phone's glass.
        self.fields["tool"].widget.attrs.update({**keys, "autofocus": True, "data-scan": True})
        self.initial.setdefault("at", "now")

    @property
    def next_place(self) -> Place | None:
        """The place whose tag was scanned in the place of a tool's."""
        met = self.cleaned_data.get("tool")
        return met if isinstance(met, Place) else None
