"""Moving in: what words, days, numbers and names of places of the shop's mean."""

from collections.abc import Iterable, Iterator
from typing import Any

from django import forms
from django.utils.translation import gettext as _

from tooling.calc.entry import PREPARED
from tooling.models import Kind, Place, ReleaseSystem
from tooling.services.moving_in.matching import RECIPE_OF
from tooling.services.moving_in.ours import NOT_KNOWN, NOTHING
from tooling.services.moving_in.places_met import NEW
from tooling.services.moving_in.targets import sheet_called
from tooling.services.starters import STARTERS

_STARTER = "starter:"


class WordsForm(forms.Form):
    """Which of our words, recipes or places each unknown one of theirs is."""

    def __init__(
        self, unknown: list[dict[str, Any]], guesses: dict[tuple[str, str, str], str], data: Any = None
    ) -> None:
        super().__init__(data)
        self.unknown = unknown
        known: dict[str, list[Any]] = {}
        for index, one in enumerate(unknown):
            field = forms.ChoiceField(label=one["word"], required=False)
            field.choices = [
                ("", _("not said: these rows are wrong")),
                *(_places(one) if one["column"] == "place" else known.setdefault(_key(one), _choices(one))),
                (NOTHING, _("nothing: the cell counts as empty")),
            ]
            field.initial = guesses.get((one["sheet"], one["column"], one["word"]), "")
            self.fields[f"w{index}"] = field

    def rows(self) -> Iterator[tuple[dict[str, Any], forms.BoundField]]:
        """Each word with its field."""
        for index, one in enumerate(self.unknown):
            yield one, self[f"w{index}"]

    def said(self) -> dict[tuple[str, str, str], str]:
        """What each is."""
        return {
            (one["sheet"], one["column"], one["word"]): self.cleaned_data[f"w{index}"].removeprefix(_STARTER)
            for index, one in enumerate(self.unknown)
        }

    def starters(self) -> list[str]:
        """The starter recipes that were chosen and are to be taken in first."""
        return _starters(self.cleaned_data.values())


class RecipesForm(forms.Form):
    """The recipe of all tools of a kind in whose lines none stands."""

    def __init__(self, kinds: dict[str, int], data: Any = None, initial: Any = None) -> None:
        super().__init__(data, initial=initial)
        for kind, count in kinds.items():
            label = _("%(kind)s without one: %(count)d") % {"kind": Kind(kind).label, "count": count}
            choices = [("", _("none: each is given one later")), *recipe_choices()]
            self.fields[f"{RECIPE_OF}{kind}"] = forms.ChoiceField(label=label, choices=choices, required=False)

    def said(self) -> dict[str, str]:
        """The recipe of each kind, by what an upload keeps it as."""
        return {name: str(value).removeprefix(_STARTER) for name, value in self.cleaned_data.items()}

    def starters(self) -> list[str]:
        """The starter recipes that are to be taken in first."""
        return _starters(self.cleaned_data.values())


def _starters(values: Iterable[Any]) -> list[str]:
    return sorted({one.removeprefix(_STARTER) for one in map(str, values) if one.startswith(_STARTER)})


def _key(one: dict[str, Any]) -> str:
    return f"{one['sheet']} {one['column']}"


def choices_of(one: dict[str, Any]) -> list[str]:
    """Our words for a column: its own, or the shop's recipes."""
    if one.get("is_value"):
        return []
    if one["column"] == "release_system":
        return list(ReleaseSystem.objects.order_by("code").values_list("code", flat=True))
    ours = sheet_called(one["sheet"])
    words = next((column.kind.words for column in ours.columns if column.name == one["column"]), ()) if ours else ()
    return list(words or PREPARED)


def recipe_choices() -> list[tuple[str, Any]]:
    """The recipes of the shop, and the starters that it has not taken in."""
    there = set(choices_of({"column": "release_system"}))
    offered = [
        (f"{_STARTER}{code}", f"{code}: {starter.name}") for code, starter in STARTERS.items() if code not in there
    ]
    label = _("Taken into the shop when chosen: common practice, no source")
    return [*((code, code) for code in sorted(there)), *([(label, offered)] if offered else [])]


def _choices(one: dict[str, Any]) -> list[tuple[str, Any]]:
    if one.get("is_value"):
        return [(NOT_KNOWN, _("not known: what stands there is kept in the note of the tool"))]
    if one["column"] == "release_system":
        return recipe_choices()
    return [(word, word.replace("_", " ")) for word in choices_of(one)]


def _places(one: dict[str, Any]) -> list[tuple[str, Any]]:
    """The places that there are, the likely one first; or a new one, by itself or in another one."""
    there = list(Place.objects.order_by("code").values_list("code", "name", "parent"))
    there.sort(key=lambda place: place[0] != one.get("likely"))
    found: list[tuple[str, Any]] = []
    if there:
        found.append((_("A place that is there"), [(code, f"{code}: {name}") for code, name, _parent in there]))
    if one.get("code"):
        new = [(NEW, _("new: %(code)s") % {"code": one["code"]})]
        tops = sorted(code for code, _name, parent in there if parent is None)
        new += [(f"{NEW}{code}", _("new, within %(place)s") % {"place": code}) for code in tops]
        found.append((_("A new place"), new))
    return found
