"""Into use: when, and words."""

from typing import Any

from tooling.forms.deeds.base import DeedForm


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
