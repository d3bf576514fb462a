"""What stood on a mold when the page of its deed was opened: it may stand otherwise when the deed is tapped."""

from typing import Any

from django import forms

from tooling.selectors.floor import Floor


class OpenedPart(forms.Form):
    """Part of the form of a deed that takes off what was laid up. The lay-up that was in it comes back with it."""

    lay_up = forms.CharField(required=False, widget=forms.HiddenInput)
    another = forms.CharField(required=False, widget=forms.HiddenInput)

    def __init__(self, *args: Any, on: Floor, **more: Any) -> None:
        super().__init__(*args, **more)
        if on.part_in is not None:
            self.initial["lay_up"] = on.part_in.entry

    @property
    def opened_with(self) -> int | None:
        """The entry of the lay-up that was in it when the page was opened."""
        text = self.data.get("lay_up", "") if self.is_bound else ""
        return int(text) if text.isascii() and text.isdigit() and len(text) < 19 else None
