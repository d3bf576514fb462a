"""What else is taken back: that which the same form wrote on the other halves of a matched set."""

from collections.abc import Sequence
from typing import Any

from django import forms
from django.utils.translation import gettext as _now
from django.utils.translation import gettext_lazy as _

from tooling.models import Entry


class AlsoPart(forms.Form):
    """Part of a form that takes an entry back. All are ticked at first: one part is in all of the halves."""

    also = forms.MultipleChoiceField(
        label=_("The same form wrote this on another half"), required=False, widget=forms.CheckboxSelectMultiple
    )

    def __init__(self, *args: Any, written_with: Sequence[Entry] = (), **more: Any) -> None:
        super().__init__(*args, **more)
        self.written_with = {str(one.tool.pk): one for one in written_with}
        if not written_with:
            del self.fields["also"]
            return
        codes = [(pk, _now("also on %(code)s") % {"code": one.tool.code}) for pk, one in self.written_with.items()]
        self.fields["also"].choices = codes
        self.initial["also"] = list(self.written_with)

    @property
    def others(self) -> list[Entry]:
        """Those of the other halves that are meant as well."""
        return [self.written_with[pk] for pk in self.cleaned_data.get("also", ())]
