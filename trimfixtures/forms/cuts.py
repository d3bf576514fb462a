"""A cut of a trim mask: what is cut, with what, how large, and what of it only some ways of cutting have."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from django import forms
from django.utils.translation import gettext as _now
from django.utils.translation import gettext_lazy as _

from shared.units import METRIC
from tooling.forms.catalogue import CatalogueForm
from tooling.forms.deeds.base import chips
from tooling.forms.measures import MeasureField
from tooling.forms.token import TokenForm
from tooling.words.sizes import given
from trimfixtures.models import Cutter, CutterKind, CutterState, Feature, Kept

_FIRST = (
    "cutter", "cutter_mm", "bushing", "bushing_mm", "kept", "length_mm", "width_mm", "corner_mm", "drill_bushing",
    "pilot_mm", "tolerance_mm",
)  # fmt: skip
_FOLDED = ("name", "finish", "x_mm", "y_mm", "opening_mm", "backing", "note")
_CHOSEN = ("kind", "method")
_INSIDE = ("cut_out", "hole", "slot")
# Which kinds and methods a field is for; one that is not here is for all of them.
_OF_KIND: Mapping[str, tuple[str, ...]] = {
    "length_mm": ("edge", "cut_out", "slot", "mark"), "width_mm": _INSIDE, "corner_mm": ("cut_out",),
    "x_mm": (*_INSIDE, "mark"), "y_mm": (*_INSIDE, "mark"), "opening_mm": _INSIDE,
}  # fmt: skip
_OF_METHOD: Mapping[str, tuple[str, ...]] = {
    "bushing": ("guide_bushing", "drill"), "bushing_mm": ("guide_bushing", "bearing", "drill"),
    "kept": ("guide_bushing", "bearing", "scribe", "knife", "saw"), "opening_mm": ("guide_bushing", "bearing"),
    "drill_bushing": ("drill",), "pilot_mm": ("drill",), "backing": ("drill", "saw"),
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Asked:
    """A field with the kinds and methods that it is for, "" for all. `said`: something stands in it."""

    field: forms.BoundField
    kinds: str
    methods: str
    said: bool

    @property
    def of(self) -> str:
        """Of which choice of the library it is the size, where that has none."""
        return self.field.name.removesuffix("_mm") if self.field.name in ("cutter_mm", "bushing_mm") else ""


class LibrarySelect(forms.Select):
    """Marks those that have a size: for them none is asked."""

    def create_option(self, name: str, value: Any, *args: Any, **more: Any) -> dict[str, Any]:
        option = super().create_option(name, value, *args, **more)
        if value and value.instance.nominal_mm is not None:
            option["attrs"]["data-sized"] = True
        return option


class LibraryField(forms.ModelChoiceField):
    """A cutter or guide bushing of the library, with its size, and a word where it is not here."""

    def label_from_instance(self, one: Cutter) -> str:
        """GB-16 · 16 mm · gone"""
        size = given(one, "nominal_mm", self.system)
        state = one.get_state_display() if one.state != CutterState.HERE else ""
        return " · ".join(filter(None, (one.code, size, state)))

    # The units of whoever chooses.
    system = METRIC


class CutForm(CatalogueForm):
    """All columns of a cut but its place in the order."""

    COLUMNS = (*_CHOSEN, *_FIRST, *_FOLDED)
    HELP = {
        "cutter": _("From the library. One that is not there: say how large it is."),
        "bushing_mm": _("Outside, where it runs along the trim mask; of a bearing cutter its bearing."),
        "length_mm": _("In the part. Of an edge empty: all around."),
        "width_mm": _("In the part; of a hole its diameter."),
        "tolerance_mm": _("How far each cut edge may be off, to either side; of a drilled hole its diameter."),
        "pilot_mm": _("Drilled first, then reamed or drilled up. Empty: in one go."),
        "opening_mm": _("Measured on the trim mask. Empty: as it should be."),
        "x_mm": _("Of its middle, as in the outline."),
        "backing": _("What is clamped behind the part so that it does not break out."),
        "name": _("As it is called in the shop: hatch, forward."),
    }

    def __init__(self, row: Feature, data: Any = None, *, system: str) -> None:
        super().__init__(row, data, system=system)
        for name in _CHOSEN:
            plain = self.fields[name]
            choices = [(value, words) for value, words in plain.choices if value]
            said = {"required": _("Choose one.")}
            self.fields[name] = chips(_LABELS[name], choices, required=True, error_messages=said)
        self.fields["kept"].label = _("Which piece is the part")
        self.fields["kept"].required = False
        for name, kind in (("cutter", CutterKind.CUTTER), ("bushing", CutterKind.BUSHING)):
            self.fields[name] = _of_library(row, name, kind, system)
        for field in self.fields.values():
            if isinstance(field, MeasureField):
                field.below_zero = True  # the rules of a cut say it in their own words
        for name in ("x_mm", "y_mm"):
            self.fields[name].widget.attrs["inputmode"] = "text"

    def clean_kept(self) -> str:
        """The piece under the trim mask, where nobody says otherwise."""
        return self.cleaned_data["kept"] or Kept.MASK_SIDE

    @property
    def chosen(self) -> list[forms.BoundField]:
        """What is cut, and how: it decides what else is asked."""
        return [self[name] for name in _CHOSEN]

    @property
    def first(self) -> list[Asked]:
        """What is asked at once."""
        return [self._asked(name) for name in _FIRST]

    @property
    def folded(self) -> list[Asked]:
        """What a cut can do without."""
        return [self._asked(name) for name in _FOLDED]

    @property
    def is_open(self) -> bool:
        """Whether something stands in the fold, or is wrong there."""
        return any(one.said or one.field.errors for one in self.folded)

    def _asked(self, name: str) -> Asked:
        field = self[name]
        said = field.value() not in ("", None) and name != "kept"
        return Asked(field, " ".join(_OF_KIND.get(name, ())), " ".join(_OF_METHOD.get(name, ())), said)


class NewCutForm(CutForm, TokenForm):
    """A further cut; sent twice it is written once."""

    def clean(self) -> dict[str, Any]:
        """With a token of its own, where the page had lost it."""
        data = super().clean()
        self.say_lost_token()
        return data

    def whole(self) -> dict[str, Any]:
        """Its columns: those that were typed, and the choices that stood there already."""
        data = self.cleaned_data
        return {**self.changes(), **{name: data[name] for name in (*_CHOSEN, "kept")}, "token": data["token"]}


_LABELS = {"kind": _("What is cut"), "method": _("How")}


def _of_library(row: Feature, name: str, kind: str, system: str) -> LibraryField:
    """Those of a kind; what is gone or worn is offered too, since it will be got again."""
    field = LibraryField(
        Cutter.objects.filter(kind=kind), required=False, empty_label=_("none of the library"), widget=LibrarySelect,
        label=_now("Cutter") if name == "cutter" else _now("Guide bushing"), help_text=CutForm.HELP.get(name, ""),
    )  # fmt: skip
    field.system = system
    return field
