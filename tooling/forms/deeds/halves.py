"""A deed on one half of a matched set, which goes to the other halves as well unless somebody says otherwise."""

from collections.abc import Sequence
from typing import Any

from django import forms
from django.utils.translation import gettext as _now
from django.utils.translation import gettext_lazy as _

from tooling.models import Kind, Tool
from tooling.selectors.matched import Half
from tooling.services.deeds.undo import sent_before

# More halves than any part has.
_MOST, _LONGEST_CODE = 12, 16


class HalvesPart(forms.Form):
    """Part of a deed's form. The halves that stood on the page come back with it: each may stand otherwise by then."""

    halves = forms.CharField(required=False, max_length=_MOST * (_LONGEST_CODE + 1), widget=forms.HiddenInput)
    alone = forms.BooleanField(label=_("only this half"), required=False)

    def __init__(self, *args: Any, of: Tool, offered: Sequence[Half], **more: Any) -> None:
        """`of`: the half whose page it is; `offered`: those that the deed would be written to as well."""
        super().__init__(*args, **more)
        self.of, self.offered = of, list(offered)
        self.initial["halves"] = ",".join(half.tool.code for half in self.offered)

    @property
    def asked_halves(self) -> list[Tool]:
        """The other halves that the page was about."""
        codes = (self.data.get("halves", "") if self.is_bound else self.initial["halves"])[:500].split(",")
        if not self.of.matched_set or not any(codes):
            return []
        found = Tool.objects.filter(matched_set=self.of.matched_set, kind=Kind.MOLD, code__in=codes[:_MOST])
        return list(found.exclude(pk=self.of.pk).order_by("code"))

    @property
    def meant(self) -> list[Tool]:
        """The tool, and the halves that it would be written to as well as the form stands."""
        alone = self.is_bound and bool(self.data.get("alone"))
        return [self.of, *([] if alone else self.asked_halves)]

    def clean(self) -> dict[str, Any]:
        data = super().clean() or {}
        asked = self.asked_halves
        data["tools"] = self.meant
        there = {half.tool.pk for half in self.offered}
        gone = [one.code for one in asked if one.pk not in there]
        if gone and not data.get("alone") and not sent_before(data.get("token")):
            message = _now("%(codes)s stands otherwise by now. Look again, or say that it is only this half.")
            self.add_error("alone", message % {"codes": ", ".join(gone)})
        return data
