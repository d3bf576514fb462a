"""A plug's record as a lead keeps it: how it sat on the machine, and each pass that milled it."""

from collections.abc import Mapping
from typing import Any

from django import forms
from django.utils.translation import gettext_lazy as _

from tooling.forms.catalogue import CatalogueForm
from tooling.forms.deeds.base import chips
from tooling.models import MillingPass, Picture, PlugRecord, Tool
from tooling.selectors.plug import pictures_of, to_set_up

_FIRST = (
    "cutter", "ball_diameter_mm", "step_over_mm", "step_down_mm", "feed_mm_min", "both_ways", "width_mm", "length_mm",
)  # fmt: skip
_WALL = ("slope_deg", "wall_height_mm", "wall_angle_deg", "holder_diameter_mm", "stickout_mm")
_AFTER = ("minutes_taken", "note")
# The words that are tapped; any other may be typed. Common practice, no source.
OFFERED: Mapping[str, tuple[Any, ...]] = {
    "base": (_("steel frame"), _("plywood on battens"), _("vacuum table")),
    "stock": (_("EPS block"), _("PU foam board"), _("tooling board"), _("MDF, glued up")),
    "tilt_about": (_("long axis, port side up"), _("long axis, starboard side up"), _("across, bow up")),
    "zero": (_("dowel at the bow"), _("corner of the base"), _("top of the base, on the centerline")),
}


class PictureField(forms.ModelChoiceField):
    """One of the tool's pictures; the page shows them."""

    def label_from_instance(self, picture: Picture) -> str:
        """What stands below it."""
        return picture.caption or str(_("picture"))


class PlugForm(CatalogueForm):
    """All columns of the record."""

    COLUMNS = ("base", "stock", "machine", "tilt_deg", "tilt_about", "zero", "picture", "note")
    HELP = {
        "base": _("What it stands on and is clamped by."),
        "tilt_deg": _("Empty: it lay flat. Below 0: the other way."),
        "zero": _("Where the machine’s zero is on it, so that it is found again."),
    }

    def __init__(self, row: PlugRecord, data: Any = None, *, system: str) -> None:
        super().__init__(row, data, system=system)
        self.fields["tilt_deg"].below_zero = True  # type: ignore[attr-defined]
        self.pictures = pictures_of(row.tool)
        self.fields["picture"] = PictureField(
            Picture.objects.filter(pk__in=[one.pk for one in self.pictures]), required=False,
            label=_("How it sat"), widget=forms.RadioSelect, empty_label=_("none"),
        )  # fmt: skip

    @property
    def asked(self) -> list[tuple[forms.BoundField, tuple[Any, ...]]]:
        """What is typed, each with the words that are offered for it."""
        return [(self[name], OFFERED.get(name, ())) for name in self.COLUMNS if name != "picture"]

    @property
    def shown_pictures(self) -> list[tuple[Any, Picture]]:
        """The choices of the picture, each with the picture itself."""
        by_key = {str(one.pk): one for one in self.pictures}
        return [(one, by_key.get(str(one.data["value"]))) for one in self["picture"]]


class PassForm(CatalogueForm):
    """All columns of a pass but its place in the order."""

    COLUMNS = ("kind", "name", *_FIRST, *_WALL, *_AFTER)
    HELP = {
        "name": _("If not all of it: hull bottom, topsides, flange."),
        "cutter": _("As it is called in the shop: ball nose 20, three flutes."),
        "ball_diameter_mm": _("Empty: not a ball-end cutter."),
        "step_over_mm": _("From line to line, seen from above."),
        "step_down_mm": _("Of roughing: from level to level."),
        "width_mm": _("Across the lines, seen from above."),
        "length_mm": _("Of one line, on the surface."),
        "slope_deg": _("From the horizontal, as it sits on the machine, tilt counted. Empty: not known."),
        "wall_angle_deg": _("From the horizontal, as it sits on the machine, tilt counted: 90° is upright."),
        "holder_diameter_mm": _("The widest that comes near the wall."),
        "stickout_mm": _("From the holder’s lower edge to the lowest point of the ball."),
        "minutes_taken": _("Once it is cut."),
    }

    def __init__(self, row: MillingPass, data: Any = None, *, system: str) -> None:
        super().__init__(row, data, system=system)
        choices = [(value, words) for value, words in self.fields["kind"].choices if value]  # type: ignore[attr-defined]
        said = {"required": _("Choose one.")}
        self.fields["kind"] = chips(_("Which pass"), choices, required=True, error_messages=said)

    @property
    def first(self) -> list[forms.BoundField]:
        """What is asked at once."""
        return [self[name] for name in ("name", *_FIRST)]

    @property
    def wall(self) -> list[forms.BoundField]:
        """What says whether the holder clears, and how high the scallop is on a slope."""
        return [self[name] for name in _WALL]

    @property
    def after(self) -> list[forms.BoundField]:
        """What is known when it is cut."""
        return [self[name] for name in _AFTER]


class NewPassForm(PassForm):
    """A further pass. It says for which place it was meant, so that sent twice it is written once."""

    place = forms.IntegerField(required=False, min_value=1, widget=forms.HiddenInput)

    def whole(self) -> dict[str, Any]:
        """Its columns, and the place it was meant for."""
        data = self.cleaned_data
        return {**self.changes(), "kind": data["kind"], "place": data["place"]}


class AlikeForm(forms.Form):
    """Which plug is set up like this one."""

    plug = forms.ModelChoiceField(
        Tool.objects.none(), label=_("Which plug"), widget=forms.RadioSelect, empty_label=None,
        error_messages={"required": _("Choose one."), "invalid_choice": _("That one is not free any more.")},
    )  # fmt: skip

    def __init__(self, like: Tool, data: Any = None) -> None:
        super().__init__(data)
        self.plugs = to_set_up(like)
        self.fields["plug"].queryset = Tool.objects.filter(pk__in=[one.pk for one in self.plugs])  # type: ignore[attr-defined]
