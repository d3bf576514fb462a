"""A deed that is asked about before it is written: the same form again with one more tap writes it."""

from typing import Any

from django import forms


class AskedFirst(forms.Form):
    """Put it before the form of a deed, which says in `doubts` what speaks against it."""

    anyway = forms.BooleanField(required=False, widget=forms.HiddenInput)

    def doubts(self, data: dict[str, Any]) -> list[str]:
        """What should be known before this is written, as sentences."""
        raise NotImplementedError

    def clean(self) -> dict[str, Any]:
        data = super().clean() or self.cleaned_data
        asks = not (self.errors or data.get("anyway") or self.was_sent)  # type: ignore[attr-defined]
        for words in self.doubts(data) if asks else ():
            self.add_error("anyway", words)
        return data
