"""Places: several new ones at once, one that is changed, and what was seen at one."""

import re
from typing import Any

from django import forms
from django.core.exceptions import ValidationError
from django.utils.translation import gettext as _now
from django.utils.translation import gettext_lazy as _

from tooling.forms.catalogue import CatalogueForm, PlaceField, ToolField
from tooling.forms.deeds.base import DeedForm
from tooling.models import Place, PlaceAlias, Tool, check_code, propose_code, tidy_code
from tooling.models.codes import LONGEST
from tooling.selectors import scans
from tooling.services.places import NewPlace
from tooling.words.counting import capital

MOST_LINES, MOST_SHELVES = 50, 99
# A last piece of a code that is no longer than this is a sign, not a word.
_SIGN = 2
_LINE = re.compile(r"(?:(?P<code>[^:,]+):)?(?P<name>[^:,]+)(?:,\s*(?P<count>\d{1,9})\s+(?P<what>[^\d:,]+))?")
# The same without its comma: rack E 4 shelves
_NO_COMMA = re.compile(r"(?P<name>[^,]*[^\s,:])\s+(?P<several>\d{1,9}\s+[^\W\d]+s)")


def meant(line: str, within: str = "") -> list[NewPlace]:
    """What a line says: "rack C, 4 shelves" is RACK-C with C-1 to C-4 in it; "C: rack C" gives the code as well."""
    line = line.strip()
    if run_on := _NO_COMMA.fullmatch(line):
        line = f"{run_on['name']}, {run_on['several']}"
    said = _LINE.fullmatch(line)
    if said is None:
        raise ValidationError(_now("“%(line)s” is not understood. Write it as: rack C, 4 shelves.") % {"line": line})
    name = " ".join(said["name"].split())
    code = tidy_code(said["code"] or propose_code(name))
    count = int(said["count"] or 0)
    if said["count"] and not count:
        raise ValidationError(_now("Nothing is in it? Then write its name alone: %(name)s.") % {"name": name})
    if count > MOST_SHELVES:
        raise ValidationError(_now("At most %(most)d in one place.") % {"most": MOST_SHELVES})
    title = capital(name)
    short = _short(code)
    shelves = [NewPlace(f"{short}-{n}", f"{title}, {_one(said['what'])} {n}", code) for n in range(1, count + 1)]
    places = [NewPlace(code, title, within), *shelves]
    for place in places:
        check_code(place.code)
    return places


def _short(code: str) -> str:
    """The piece that tells it from others: C of RACK-C, ZURICH of ZURICH-WALL, all of BENCH-2."""
    first, last = code.partition("-")[0], code.rpartition("-")[2]
    short = code if last.isdigit() else last if len(last) <= _SIGN or not first else first
    return short[: LONGEST - len(f"-{MOST_SHELVES}")]


def _one(several: str) -> str:
    """shelves: shelf; arms: arm"""
    word = several.strip()
    return word[:-3] + "f" if word.endswith("ves") else word.removesuffix("s")


class NewPlacesForm(forms.Form):
    """One line a rack. What it makes of the lines is shown before anything is written."""

    lines = forms.CharField(
        label=_("New places, one line each"),
        max_length=2000,
        widget=forms.Textarea(attrs={"rows": 3, "spellcheck": "false"}),
        help_text=_("As in: rack C, 4 shelves. With a code of your own: C: rack C, 4 shelves."),
    )
    within = PlaceField(Place.objects.order_by("code"), label=_("Within"), required=False, empty_label=_("nothing"))

    def clean(self) -> dict[str, Any]:
        """The places that are meant, none of them there already, none twice."""
        data = super().clean() or {}
        if self.errors:
            return data
        try:
            data["places"] = all_meant(data["lines"], data["within"].code if data["within"] else "")
        except ValidationError as wrong:
            self.add_error("lines", wrong)
        return data


def all_meant(text: str, within: str) -> list[NewPlace]:
    """What all lines say, none of it there already and none of it twice."""
    lines = [line for line in text.splitlines() if line.strip()]
    if len(lines) > MOST_LINES:
        raise ValidationError(_now("At most %(most)d lines at once.") % {"most": MOST_LINES})
    places = [place for line in lines for place in meant(line, within)]
    codes = [place.code for place in places]
    there = set(Place.objects.filter(code__in=codes).values_list("code", flat=True))
    there |= set(PlaceAlias.objects.filter(code__in=codes).values_list("code", flat=True))
    there |= {code for code in codes if codes.count(code) > 1}
    if there:
        message = _now("There is or was a place %(codes)s already. Give the new one a code of its own.")
        raise ValidationError(message % {"codes": ", ".join(sorted(there))})
    return places


class PlaceForm(CatalogueForm):
    """A place."""

    COLUMNS = ("code", "name", "parent", "height_mm", "max_load_kg")
    HELP = {
        "code": _("Another code keeps the old one: a tag that is stuck on still leads here."),
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
