"""New places: racks with their shelves and bays, a line each, and places on the floor of the shop, one tap each."""

import re
from collections.abc import Iterable
from dataclasses import replace
from string import ascii_uppercase
from typing import Any

from django import forms
from django.core.exceptions import ValidationError
from django.utils.translation import gettext as _now
from django.utils.translation import gettext_lazy as _

from shared.natural import natural
from tooling.forms.catalogue import PlaceField
from tooling.forms.heights import HeightsField
from tooling.forms.measures import MeasureField
from tooling.models import Place, PlaceAlias, PlaceKind, check_code, propose_code, tidy_code
from tooling.models.codes import LONGEST
from tooling.services.places import NewPlace
from tooling.words.counting import capital, figures
from tooling.words.measures import unit_for

MOST_LINES, MOST_SHELVES, MOST_PLACES = 50, 99, 500
# A last piece of a code that is no longer than this is a sign, not a word.
_SIGN = 2
# So many codes are named in a refusal, and the others counted.
_NAMED = 6
_SEVERAL = r"(?:,\s*(?P<{0}>\d{{1,9}})\s+(?P<{0}_word>[^\d:,]+))"
_LINE = re.compile(
    rf"(?:(?P<code>[^:,]+):)?(?P<name>[^:,]+)(?:{_SEVERAL.format('shelves')}{_SEVERAL.format('bays')}?)?"
)
# What names no rack: 4 shelves, 5 bays
_NAMELESS = re.compile(r"(?P<several>\d{1,9}\s+(?P<word>[^\W\d]+s))(?:,.*)?")
# The same without its first comma: rack E 4 shelves
_NO_COMMA = re.compile(r"(?P<name>[^,]*[^\s,:])\s+(?P<several>\d{1,9}\s+[^\W\d]+s(?:,.*)?)")


def meant(line: str, within: str = "") -> list[NewPlace]:
    """What a line says: "rack C, 4 shelves, 5 bays" is RACK-C with C-1 to C-4 in it, and C-1-1 to C-1-5 in the first.

    "C: rack C" gives the code as well. Numbers may be words: four shelves.
    """
    line = figures(line.strip())
    if run_on := _NO_COMMA.fullmatch(line):
        line = f"{run_on['name']}, {run_on['several']}"
    said = _LINE.fullmatch(line)
    if said is None:
        raise ValidationError(
            _now("“%(line)s” is not understood. Write it as: rack C, 4 shelves, 5 bays.") % {"line": line}
        )
    name = " ".join(said["name"].split())
    shelves, bays = (_how_many(said[column], name) for column in ("shelves", "bays"))
    if shelves * (1 + bays) > MOST_PLACES:
        raise ValidationError(_now("At most %(most)d places in one line.") % {"most": MOST_PLACES})
    whole = NewPlace(tidy_code(said["code"] or propose_code(name)), capital(name), within, _kind(name))
    short = _short(whole.code, f"-{MOST_SHELVES}-{MOST_SHELVES}" if bays else f"-{MOST_SHELVES}")
    places = [whole]
    for shelf in _several(whole, short, shelves, said["shelves_word"], PlaceKind.SHELF):
        places += [shelf, *_several(shelf, shelf.code, bays, said["bays_word"], PlaceKind.BAY)]
    for place in places:
        check_code(place.code)
    return places


def _how_many(typed: str | None, name: str) -> int:
    count = int(typed or 0)
    if typed and not count:
        raise ValidationError(_now("Nothing is in it? Then write its name alone: %(name)s.") % {"name": name})
    if count > MOST_SHELVES:
        raise ValidationError(_now("At most %(most)d in one place.") % {"most": MOST_SHELVES})
    return count


def _several(whole: NewPlace, short: str, count: int, words: str | None, usual: str) -> list[NewPlace]:
    """So many places in another one. What lies in a rack is a shelf, whatever it is called: arms, hooks."""
    word = _one(words or "")
    kind = _kind(word) or (usual if whole.kind in (PlaceKind.RACK, PlaceKind.SHELF) else "")
    return [NewPlace(f"{short}-{n}", f"{whole.name}, {word} {n}", whole.code, kind) for n in range(1, count + 1)]


def _kind(name: str) -> str:
    """What a place is, where its name says so."""
    words = f" {name.casefold()} "
    return next((kind.value for kind in PlaceKind if f" {str(kind.label).casefold()} " in words), "")


def _short(code: str, more: str) -> str:
    """The piece that tells it from others: C of RACK-C, ZURICH of ZURICH-WALL, all of BENCH-2."""
    first, last = code.partition("-")[0], code.rpartition("-")[2]
    short = code if last.isdigit() else last if len(last) <= _SIGN or not first else first
    return short[: LONGEST - len(more)]


def _one(several: str) -> str:
    """shelves: shelf; benches: bench; arms: arm"""
    word = several.strip()
    if word.endswith(("ches", "shes", "xes")):
        return word[:-2]
    return word[:-3] + "f" if word.endswith("ves") else word.removesuffix("s")


class NewPlacesForm(forms.Form):
    """One line a rack, and what holds for the shelves of all. What it makes is drawn before anything is written."""

    lines = forms.CharField(
        label=_("New places, one line each"),
        max_length=2000,
        widget=forms.Textarea(attrs={"rows": 3, "spellcheck": "false"}),
        help_text=_("As in: rack C, 4 shelves, 5 bays. With a code of your own: C: rack C, 4 shelves."),
    )
    within = PlaceField(Place.objects.order_by("code"), label=_("Within"), required=False, empty_label=_("nothing"))

    def __init__(self, *args: Any, system: str, **more: Any) -> None:
        """`system`: the units of the person."""
        super().__init__(*args, **more)
        # Whether somebody still has to see which names their racks get.
        self.names_racks = False
        self.fields["heights"] = HeightsField(
            unit=unit_for("height_mm", system),
            label=_("How high the shelves are, from the lowest"),
            help_text=_("As in: 40, 90, 140, 190 cm. Or evenly: from 40 to 190 cm. It may be left out."),
        )
        unit = unit_for("max_load_kg", system)
        self.fields["load"] = MeasureField(
            unit=unit,
            label=_("Most load of a shelf, in %(unit)s") % {"unit": unit.symbol},
            help_text=_("As the plate on the rack says. It may be left out."),
        )

    def clean(self) -> dict[str, Any]:
        """The places that are meant, none of them there already, none twice."""
        data = super().clean() or {}
        if self.errors:
            return data
        try:
            data["lines"] = self._with_names(data["lines"])
            places = all_meant(data["lines"], data["within"].code if data["within"] else "")
        except ValidationError as wrong:
            self.add_error("lines", wrong)
            return data
        try:
            data["places"] = list(_with_heights(places, data["heights"], data["load"]))
        except ValidationError as wrong:
            self.add_error("heights", wrong)
        return data

    def _with_names(self, text: str) -> str:
        """The lines with a name for each rack, which then stand in the box: sent twice they make one rack."""
        lines = [line for line in text.splitlines() if line.strip()]
        found = _named(lines)
        if found == lines:
            return text
        self.names_racks = True
        self.data = {**self.data.dict(), "lines": "\n".join(found)}
        return str(self.data["lines"])


def _with_heights(places: list[NewPlace], heights: Any, load: Any) -> Iterable[NewPlace]:
    """The same, each shelf at its height and with its load; a bay lies as high as its shelf."""
    shelves = [one for one in places if one.kind == PlaceKind.SHELF and one.within]
    if (heights or load) and not shelves:
        raise ValidationError(_now("None of these lines has shelves in it."))
    high: dict[str, Any] = {}
    for rack in {one.within: None for one in shelves}:
        inside = [one.code for one in shelves if one.within == rack]
        high |= dict(zip(inside, heights.of(len(inside)), strict=True)) if heights else {}
    for one in places:
        if one.code in high or (load and one in shelves):
            yield replace(one, height=high.get(one.code), load=load)
        else:
            yield replace(one, height=high.get(one.within)) if one.kind == PlaceKind.BAY else one


def all_meant(text: str, within: str) -> list[NewPlace]:
    """What all lines say, none of it there already and none of it twice."""
    lines = [line for line in text.splitlines() if line.strip()]
    if len(lines) > MOST_LINES:
        raise ValidationError(_now("At most %(most)d lines at once.") % {"most": MOST_LINES})
    places = [place for line in lines for place in meant(line, within)]
    if len(places) > MOST_PLACES:
        raise ValidationError(_now("At most %(most)d places at once.") % {"most": MOST_PLACES})
    codes = [place.code for place in places]
    if twice := {code for code in codes if codes.count(code) > 1}:
        raise ValidationError(_now("%(codes)s is meant twice in these lines.") % {"codes": _first(twice)})
    if there := taken(codes):
        message = _now("There is or was a place %(codes)s already. Give the new one a code of its own.")
        raise ValidationError(message % {"codes": _first(there)})
    return places


def _named(lines: Iterable[str]) -> list[str]:
    """The same lines; what names no rack is one with the next letter that no rack has: 4 shelves is rack D, 4 shelves.

    Two benches are no rack.
    """
    found, free = [], None
    for line in lines:
        said = _NAMELESS.fullmatch(figures(line.strip()))
        if said is not None and _kind(_one(said["word"])) in ("", PlaceKind.SHELF, PlaceKind.BAY):
            free = _free_signs(lines) if free is None else free
            if not free:
                raise ValidationError(_now("Say which rack: rack A1, %(line)s.") % {"line": line.strip()})
            found.append(f"{PlaceKind.RACK.label} {free.pop(0)}, {line.strip()}")
        else:
            found.append(line)
    return found


def _free_signs(lines: Iterable[str]) -> list[str]:
    """The letters of which no rack is named, there or in these lines."""
    rack = propose_code(str(PlaceKind.RACK.label))
    said = " ".join(lines).upper()
    there = taken(
        f"{way}{sign}{end}" for sign in ascii_uppercase for way, end in ((f"{rack}-", ""), ("", "-1"), ("", ""))
    )
    return [
        sign
        for sign in ascii_uppercase
        if not there & {f"{rack}-{sign}", f"{sign}-1", sign} and not re.search(rf"\b{rack}\W+{sign}\b", said)
    ]


def _first(codes: Iterable[str]) -> str:
    """The first few of many codes."""
    codes = sorted(codes, key=natural)
    if len(codes) <= _NAMED:
        return ", ".join(codes)
    rest = len(codes) - _NAMED + 1
    return _now("%(codes)s and %(n)d more") % {"codes": ", ".join(codes[: _NAMED - 1]), "n": rest}


def taken(codes: Iterable[str]) -> set[str]:
    """Those of these codes that a place has or once had."""
    asked = list(codes)
    there = set(Place.objects.filter(code__in=asked).values_list("code", flat=True))
    return there | set(PlaceAlias.objects.filter(code__in=asked).values_list("code", flat=True))


# What stands on the floor of a shop, each with its code.
_ON_FLOOR = {
    PlaceKind.BENCH: ("BENCH", _("Bench")),
    PlaceKind.OVEN: ("OVEN", _("Oven")),
    PlaceKind.POST_CURE: ("POST-CURE", _("Post-cure")),
    PlaceKind.OUTSIDE: ("OUT", _("Out of the house")),
}
_MOST_OF_KIND = 30


def on_floor() -> list[NewPlace]:
    """One of each that a tap puts up: the next that is not there yet. Benches have numbers from the first on."""
    found = []
    for kind, (code, name) in _ON_FLOOR.items():
        ways = [(f"{code}-{n}", f"{name} {n}") for n in range(1, _MOST_OF_KIND + 1)]
        if kind != PlaceKind.BENCH:
            ways[0] = (code, str(name))
        there = taken(way for way, _name in ways)
        free = next((way for way in ways if way[0] not in there), None)
        if free is not None:
            found.append(NewPlace(*free, kind=kind.value))
    return found
