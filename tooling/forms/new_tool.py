"""A new tool: its recipe is the usual one of its kind, unless another one is chosen."""

import json
from typing import Any

from django import forms
from django.utils.translation import gettext as _

from tooling.forms.tool import ToolForm
from tooling.models import Kind, ReleaseSystem, Tool
from tooling.selectors.usual import usual_recipes

USUAL = "usual"


class NewToolForm(ToolForm):
    """The form of a tool that is not there yet."""

    def __init__(self, data: Any = None, *, system: str) -> None:
        """Which recipe is usual is asked now: the form says what it will take."""
        super().__init__(Tool(), data, system=system, begun=False)
        self.usual = usual_recipes()
        self.fields["release_system"] = self._recipe_field(self.fields["release_system"])
        self.initial["release_system"] = USUAL

    def clean(self) -> dict[str, Any]:
        """The recipe that was chosen, or the one that is usual for the kind; a trim mask has none."""
        data = super().clean()
        if data.get("release_system") == USUAL:
            data["release_system"] = self.usual.get(data.get("kind", ""))
        elif "release_system" in data:
            data["release_system"] = ReleaseSystem.objects.filter(code=data["release_system"]).first()
        return data

    def changes(self) -> dict[str, Any]:
        """With the usual recipe, which nobody had to choose."""
        recipe = self.cleaned_data.get("release_system")
        return {**super().changes(), **({"release_system": recipe} if recipe is not None else {})}

    def _recipe_field(self, plain: forms.Field) -> forms.ChoiceField:
        kinds = dict(Kind.choices)
        said = {kind: _("as usual for a %(kind)s: %(recipe)s") % {"kind": kinds[kind], "recipe": recipe.code}
                for kind, recipe in self.usual.items()}  # fmt: skip
        usual = ", ".join(f"{kinds[kind]} {recipe.code}" for kind, recipe in self.usual.items())
        codes = ReleaseSystem.objects.order_by("code").values_list("code", flat=True)
        choices = [(USUAL, _("as usual for its kind")), ("", _("none")), *((code, code) for code in codes)]
        attrs = {"data-usual": json.dumps(said), "data-kind": self["kind"].id_for_label}
        return forms.ChoiceField(
            label=plain.label, required=False, choices=choices, widget=forms.Select(attrs=attrs),
            help_text=_("Usual here: %(usual)s.") % {"usual": usual} if usual else "",
        )  # fmt: skip
