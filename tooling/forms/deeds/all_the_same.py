"""A deed that is asked about before it is written: the same form again with one more tap writes it."""

from collections.abc import Sequence
from hashlib import sha256
from typing import Any

from django import forms


class AskedFirst(forms.Form):
    """Put it before the form of a deed, which says in `doubts` what speaks against it.

    The button answers what its page asked; what speaks against it since, or against something else, is asked anew.
    """

    anyway = forms.CharField(required=False, max_length=1000, widget=forms.HiddenInput)
    # What its button answers.
    asks = ""

    def doubts(self, data: dict[str, Any]) -> list[str]:
        """What should be known before this is written, as sentences."""
        raise NotImplementedError

    def about(self) -> str:
        """Of what the sentences speak, where they do not say it and the form may come to speak of another."""
        return ""

    def ask(self, doubts: Sequence[str]) -> Sequence[str]:
        """These are asked before anything was sent."""
        self.asks = " ".join(self._key(words) for words in doubts)
        return doubts

    def clean(self) -> dict[str, Any]:
        data = super().clean() or self.cleaned_data
        if self.errors or self.was_sent:  # type: ignore[attr-defined]
            return data
        doubts, answered = self.doubts(data), data.get("anyway", "").split()
        self.ask(doubts)
        for words in doubts:
            if self._key(words) not in answered:
                self.add_error("anyway", words)
        return data

    def _key(self, words: str) -> str:
        return sha256(f"{self.about()} {words}".encode()).hexdigest()[:16]
