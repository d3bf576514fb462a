"""A tool of the catalogue: a new one, and one that is changed."""

from collections.abc import Sequence
from typing import Any

from django.utils.translation import gettext as _now
from django.utils.translation import gettext_lazy as _

from tooling.forms.catalogue import CatalogueForm
from tooling.selectors.about import who_changed

GROUPS = (
    (_("What it is"), ("code", "name", "kind", "hand", "matched_set", "made_from", "in_place_of", "in_making")),
    (_("Its home, and its recipe"), ("place", "release_system")),
    (_("Size and mass"), ("length_mm", "width_mm", "height_mm", "mass_kg", "lift")),
    (_("Whose it is"), ("owner", "owner_ref", "cost")),
    (
        _("How it is built"),
        ("construction", "max_service_c", "glass_transition_c", "built_on", "not_before", "design_ref"),
    ),
    (_("Look-overs, and a note"), ("inspect_every_pulls", "inspect_every_days", "note")),
)
# Once something is written in its history these are no longer how it began.
ONLY_AT_THE_START = frozenset({"kind", "in_making"})
# What a change does beyond the tool's own row
ONCE_THERE = {"code": _("Another code keeps the old one: a tag that is stuck on still leads here.")}
ONCE_BEGUN = {
    "place": _("This writes down that its home is there from now on, not that it was seen there."),
    "release_system": _("This writes down that the other recipe holds from now on."),
}


class ToolForm(CatalogueForm):
    """All columns of a tool. `begun`: whether it has a history."""

    HELP = {
        "code": _("1 to 16 of the letters A to Z, digits, hyphen and full stop, as it stands on the tag."),
        "matched_set": _("Halves that close on one part have the same word here."),
        "made_from": _("The code of the plug or mold that it was pulled from."),
        "in_place_of": _("The code of the worn or retired tool whose work it goes on with."),
        "lift": _("The shop’s own words: trolley and two."),
        "owner": _("Empty: the shop’s own."),
        "not_before": _("The day before which it must not be used."),
        "inspect_every_pulls": _("After so many pulls somebody looks it over. Empty: no count."),
        "inspect_every_days": _("After so many days somebody looks it over. Empty: no count."),
    }

    def __init__(self, row, data=None, *, system: str, begun: bool) -> None:
        """`row` with the recipe and home that hold now."""
        self.begun = begun
        super().__init__(row, data, system=system)
        for column, words in ((ONCE_THERE if row.pk else {}) | (ONCE_BEGUN if begun else {})).items():
            self.fields[column].help_text = words

    def whose(self, column: str) -> str:
        """Whoever changed it last, by a change or, once there is a history, by a deed."""
        return who_changed(self.row, column, begun=self.begun)

    def clean(self) -> dict[str, Any]:
        """A tool that was retired goes on with nobody's work."""
        data = super().clean()
        retired = self.row.pk is not None and self.row.summary.retired
        if retired and data.get("in_place_of") and self._is_changed("in_place_of"):
            self.add_error("in_place_of", _now("This tool is retired: it takes nobody’s place."))
        return data

    def columns(self) -> Sequence[str]:
        """All that can still be changed."""
        every = (column for _title, columns in GROUPS for column in columns)
        return [column for column in every if not (self.begun and column in ONLY_AT_THE_START)]

    def groups(self):
        """The fields as they are grouped on the page."""
        return [
            (str(title), [self[column] for column in columns if column in self.fields]) for title, columns in GROUPS
        ]
