"""What a column of ours is called on the screen: in words of the trade, not by its name in a sheet."""

from django.utils.functional import Promise
from django.utils.translation import gettext as _now
from django.utils.translation import gettext_lazy as _

_CALLED: dict[str, str | Promise] = {
    "aliases": _("older codes"),
    "release_system": _("release recipe"),
    "made_from": _("made from"),
    "in_place_of": _("in the place of"),
    "matched_set": _("matched set"),
    "in_making": _("still being made"),
    "owner_ref": _("the owner’s own number"),
    "mass_kg": _("mass"),
    "length_mm": _("length"),
    "width_mm": _("width"),
    "height_mm": _("height"),
    "max_load_kg": _("most load"),
    "max_service_c": _("highest service temperature"),
    "glass_transition_c": _("glass transition"),
    "cure_c": _("cure temperature"),
    "peak_c": _("peak temperature"),
    "built_on": _("day it was built"),
    "not_before": _("not to be used before"),
    "inspect_every_pulls": _("look it over after so many pulls"),
    "inspect_every_days": _("look it over after so many days"),
    "design_ref": _("drawing"),
    "last_coat": _("day of its last coat"),
    "pulls_since_coat": _("pulls since that coat"),
    "touch_ups": _("touch-ups since the last full preparation"),
    "total_pulls": _("all pulls so far"),
    "prepared": _("prepared: yes, no or unknown"),
    "parent": _("lies within"),
    "as_typed": _("measures as they were typed"),
    "came_off": _("how it came off"),
    "entry": _("what was done"),
    "by_entry": _("logged as"),
    "at": _("when"),
    "by": _("who did it"),
}
_UNITS = {"_kg": "kg", "_mm": "mm", "_c": "°C"}
_SHEETS: dict[str, str | Promise] = {
    "release_systems": _("release recipes"),
    "history": _("what was done"),
    "places": _("places"),
    "parts": _("parts"),
    "tools": _("tools"),
    "tins": _("tins"),
    "plugs": _("how plugs sat on the machine"),
    "milling_passes": _("passes that milled plugs"),
    "tool_sets": _("tool sets of parts"),
    "wanted": _("parts that are wanted"),
    "making_steps": _("steps in which tools are built"),
    "checklists": _("what is looked at"),
    "tags": _("tags of tools"),
    "shop": _("the shop itself"),
}


def column_called(name: str) -> str:
    """A column, with the unit that its bare numbers are in."""
    column, _in, said = name.partition(" in ")
    unit = said or next((unit for ending, unit in _UNITS.items() if column.endswith(ending)), "")
    unit = _now("inches") if unit == "in" else unit
    plain = str(_CALLED.get(column) or column.replace("_", " "))
    return _now("%(what)s, in %(unit)s") % {"what": plain, "unit": unit} if unit else plain


def sheet_words(name: str) -> str:
    """One of our sheets."""
    return str(_SHEETS.get(name) or name.replace("_", " "))


def with_name(words: str, name: str) -> str:
    """Words first, then how the form to fill in calls it, where that is something else."""
    return words if words == name else f"{words} ({name.partition(' in ')[0]})"
