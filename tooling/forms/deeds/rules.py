"""By which number and which recipe a tool is judged: for leads."""

from typing import Any

from django import forms
from django.utils.translation import gettext_lazy as _

from tooling.forms.deeds.base import DeedForm, words
from tooling.forms.deeds.uses import LONGEST_PART, count_field
from tooling.models import ReleaseSystem
from tooling.services.deeds.undo import sent_before


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
    """Another recipe; what it does is shown before it is written. `shown`: the recipe it was shown for."""

    release_system = forms.ChoiceField(
        label=_("Recipe from now on"),
        error_messages={"required": _("Choose a recipe."), "invalid_choice": _("Choose one of the recipes.")},
    )
    shown = forms.CharField(required=False, widget=forms.HiddenInput)

    def __init__(self, *args: Any, own: str | None, **more: Any) -> None:
        super().__init__(*args, **more)
        # What was sent before is its own by now; it gets its first answer again.
        own = None if self.is_bound and sent_before(self.data["token"]) else own
        others = ReleaseSystem.objects.exclude(code=own or "").order_by("code").values_list("code", flat=True)
        self.fields["release_system"].choices = [("", _("choose a recipe")), *((code, code) for code in others)]

    @property
    def was_shown(self) -> bool:
        """Whether somebody has seen what this very change does, at this very time."""
        return self.cleaned_data["shown"] == self.to_show

    @property
    def to_show(self) -> str:
        """The change as one text: the recipe, and since when."""
        data = self.cleaned_data
        return f"{data['release_system']} {data['at'].isoformat() if data['at'] else ''}".strip()
