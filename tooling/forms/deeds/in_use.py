"""Into use: when, words, and what has to be said or looked at first."""

from typing import Any

from django.utils.translation import gettext as _now
from django.utils.translation import gettext_lazy as _

from tooling.forms.deeds.base import DeedForm, words


class IntoUseForm(DeedForm):
    """amiss: why it makes no sense as the tool stands; "" where it does. What was sent already has its answer."""

    def __init__(self, *args: Any, amiss: str, **more: Any) -> None:
        super().__init__(*args, **more)
        self.amiss = amiss

    def clean(self) -> dict[str, Any]:
        data = super().clean()
        if self.amiss and not self.was_sent:
            self.add_error(None, self.amiss)
        return data


class ReinstateForm(IntoUseForm):
    """Why it is brought back."""

    reason = words(_("Why is it brought back?"), lines=2)

    def clean(self) -> dict[str, Any]:
        data = super().clean()
        if not data.get("reason", "").strip() and "reason" not in self.errors and not self.amiss and not self.was_sent:
            self.add_error("reason", _now("Say why it is brought back."))
        return data
