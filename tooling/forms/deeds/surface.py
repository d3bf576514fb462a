"""What goes on the surface: coats and film."""

from typing import Any

from django import forms
from django.utils.translation import gettext_lazy as _

from tooling.forms.deeds.base import DeedForm, chips, words
from tooling.forms.deeds.uses import count_field
from tooling.models import ReleaseSystem
from tooling.words.terms import AREAS, COAT_REASONS

COAT, SEALER = "coat", "sealer"
WHAT = [(SEALER, _("sealer")), (COAT, _("release coat"))]
LONGEST_LOT = 200


class CoatForm(DeedForm):
    """A coat that went on. Everything but the button may be left as it is."""

    what = chips(_("What went on"), WHAT, initial=COAT)
    count = count_field(_("How many, one after the other"))
    area = chips(_("Where"), list(AREAS.items()), initial="whole")
    release_system = forms.ChoiceField(label=_("Another recipe’s coat"), required=False)
    lot = words(_("Lot, or the number of the tin"), longest=LONGEST_LOT)
    reason = chips(_("Why"), [("", _("not said")), *COAT_REASONS.items()])

    def __init__(self, *args: Any, own: str, sealer: bool, **more: Any) -> None:
        super().__init__(*args, **more)
        others = ReleaseSystem.objects.exclude(code=own).order_by("code").values_list("code", flat=True)
        self.fields["release_system"].choices = [("", _("no, its own")), *((code, code) for code in others)]
        self.fields["lot"].widget.attrs["list"] = "lots"
        if sealer:
            self.fields["what"].initial = SEALER

    def facts(self) -> dict[str, Any]:
        """What the entry says of the coat; a sealer has no recipe and no reason."""
        data = self.cleaned_data
        facts = {"count": data["count"] or 1, "area": data["area"] or "whole", "lot": data["lot"]}
        if self.is_sealer:
            return facts
        return {**facts, "release_system": data["release_system"], "reason": data["reason"]}

    @property
    def is_sealer(self) -> bool:
        """Whether it is sealer that went on."""
        return self.cleaned_data["what"] == SEALER


class FilmForm(DeedForm):
    """A film that went on."""

    lot = words(_("Lot, or the number of the tin"), longest=LONGEST_LOT)

    def __init__(self, *args: Any, **more: Any) -> None:
        super().__init__(*args, **more)
        self.fields["lot"].widget.attrs["list"] = "lots"
