"""Parts: a new one, and a revision of one."""

from typing import Any

from django import forms
from django.utils.translation import gettext_lazy as _

from tooling.forms.catalogue import CatalogueForm
from tooling.models import PartRevision
from tooling.selectors.about import who_changed_part


class FindPartForm(forms.Form):
    """The one box of the list of parts."""

    q = forms.CharField(
        label=_("Number or name"),
        required=False,
        max_length=100,
        widget=forms.TextInput(attrs={"type": "search", "autocapitalize": "off", "spellcheck": "false"}),
    )


class RevisionForm(CatalogueForm):
    """A revision: what it is made of, and how long it takes."""

    COLUMNS = (
        "revision", "name", "layup_minutes", "in_mold_hours", "cure_c", "peak_c", "resin", "process", "laminate",
        "note",
    )  # fmt: skip
    HELP = {
        "revision": _("Empty where the part has none."),
        "layup_minutes": _("From the first ply to the last."),
        "in_mold_hours": _("From the last ply, or the end of infusion, until it may be pulled."),
        "cure_c": _("The temperature it cures at."),
        "peak_c": _("The hottest it gets by itself."),
    }

    def whose(self, column: str) -> str:
        """Whoever changed it last."""
        return who_changed_part(self.row, column)


class PartForm(RevisionForm):
    """A new part with its first revision."""

    number = forms.CharField(label=_("Part number"), max_length=80)

    def __init__(self, data: Any = None, *, system: str, number: str = "") -> None:
        super().__init__(PartRevision(), data, system=system)
        self.initial["number"] = number
        self.order_fields(["seen", "number"])
