"""Where a tool is put."""

from typing import Any

from django import forms
from django.db.models import Case, When
from django.utils.translation import gettext as _now
from django.utils.translation import gettext_lazy as _

from tooling.forms.catalogue import PlaceField
from tooling.forms.deeds.all_the_same import AskedFirst
from tooling.forms.deeds.base import DeedForm
from tooling.models import Place, Tool
from tooling.selectors.moves import before_moving


class MoveForm(AskedFirst, DeedForm):
    """A place, and for a lead whether its home is there from now on. What speaks against it is asked about first."""

    place = PlaceField(
        Place.objects.order_by("code"),
        label=_("Where to"),
        empty_label=_("choose a place"),
        error_messages={"required": _("Where was it put?"), "invalid_choice": _("Choose one of the places.")},
    )
    home = forms.BooleanField(label=_("Its home is there from now on"), required=False)

    def __init__(self, *args: Any, tool: Tool, **more: Any) -> None:
        super().__init__(*args, **more)
        self.tool = tool
        if not self.who.can_lead:
            del self.fields["home"]

    def doubts(self, data: dict[str, Any]) -> list[str]:
        return before_moving(self.tool, data["place"], self.who.units)

    def put_first(self, scanned: Place | None, home: Place | None) -> None:
        """The place whose tag was scanned just now stands first in the list, else its home. None is chosen by that."""
        first = scanned or home
        if first is None:
            return
        order = Case(When(pk=first.pk, then=0), default=1)
        self.fields["place"].queryset = Place.objects.order_by(order, "code")
        said = _now("First the place that you scanned: %(place)s.") if scanned else _now("First its home: %(place)s.")
        self.fields["place"].help_text = said % {"place": first.name}


class HomeForm(forms.Form):
    """One tap: what the page knew when it offered it."""

    token = forms.UUIDField(widget=forms.HiddenInput)
    place = forms.CharField(max_length=16, widget=forms.HiddenInput)
