"""A form that says at its fields what a service refused."""

from django import forms

from shared.errors import Refused


class Told(forms.Form):
    """For forms outside of the ledger; those of deeds say it with the same word, as a context."""

    def told(self, refused: Refused) -> None:
        """At its field, where the form has that; else on top."""
        self.add_error(refused.field if refused.field in self.fields else None, refused.message)
