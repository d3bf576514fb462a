"""By which number and which recipe a tool is judged: for leads."""

from typing import Any

from django import forms
from django.utils.translation import gettext_lazy as _

from tooling.forms.deeds.base import DeedForm, words
from tooling.forms.deeds.surface import own_unless_sent
from tooling.forms.deeds.uses import LONGEST_PART, count_field
from tooling.models import ReleaseSystem


class IntervalForm(DeedForm):
    """Pulls after a coat, for the tool or for one part on it; empty gives the recipe's back."""

    count = count_field(_("Pulls after a coat"))
    part = words(_("For this part alone"), longest=LONGEST_PART)

    def __init__(self, *args: Any, **more: Any) -> None:
        super().__init__(*args, **more)
        self.fields["count"].initial = None
        self.fields["count"].help_text = _("Left empty, it is the recipe’s number again.")
        self.fields["part"].help_text = _("Left empty, it is for all parts.")
        self.fields["part"].widget.attrs["list"] = "parts"

    def facts(self) -> dict[str, Any]:
        """What the entry says."""
        return {name: self.cleaned_data[name] for name in ("count", "part")}


class RecipeForm(DeedForm):
    """Another recipe; what it does is shown before it is written."""

    ALWAYS_SHOWN = True

    release_system = forms.ChoiceField(
        label=_("Recipe from now on"),
        error_messages={"required": _("Choose a recipe."), "invalid_choice": _("Choose one of the recipes.")},
    )

    def __init__(self, *args: Any, own: str | None, **more: Any) -> None:
        super().__init__(*args, **more)
        own = own_unless_sent(self, own)
        others = ReleaseSystem.objects.exclude(code=own).order_by("code").values_list("code", flat=True)
        self.fields["release_system"].choices = [("", _("choose a recipe")), *((code, code) for code in others)]
