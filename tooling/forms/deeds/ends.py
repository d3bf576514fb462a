"""How a lay-up ends that is not pulled yet: the last ply is on, or it is given up."""

import datetime
from typing import Any

from django import forms
from django.utils.translation import gettext as _now
from django.utils.translation import gettext_lazy as _

from shared.errors import Refused
from tooling.calc.state import PartIn
from tooling.forms.deeds.base import DeedForm, words
from tooling.forms.deeds.halves import HalvesPart
from tooling.forms.deeds.when import EXACT, exact_moment
from tooling.selectors.floor import LONGEST_IN_MOLD, earliest_after_last_ply
from tooling.services.drafts import LeftAlone
from tooling.words.when import clock_or_when


class _EndForm(HalvesPart, DeedForm):
    """What is in it was laid up before."""

    def __init__(self, *args: Any, part_in: PartIn | None, **more: Any) -> None:
        super().__init__(*args, **more)
        self.part_in = part_in

    def clean(self) -> dict[str, Any]:
        data = super().clean()
        at = data.get("at")
        before = self.part_in is not None and at is not None and at < self.part_in.since
        if before and not self.was_sent:
            field = "at_exact" if self.data.get("at") == EXACT else "at_time"
            since = clock_or_when(self.part_in.since, self.now, self.shop.zone)
            self.add_error(field, _now("Before its lay-up started (%(when)s). Check the time.") % {"when": since})
        return data


class AbandonForm(_EndForm):
    """Why the lay-up was given up."""

    reason = words(_("Why, in words"), lines=2)

    def __init__(self, *args: Any, **more: Any) -> None:
        super().__init__(*args, **more)
        del self.fields["note"]


class LayUpDoneForm(_EndForm):
    """The last ply is on. Left alone, the part’s own time counts from now."""

    CALLED = {"earliest_pull": "earliest"}
    TIME_WANTED = _("At what time was the last ply on?")

    earliest = words(_("Not to be pulled before"), longest=40)

    def __init__(self, *args: Any, **more: Any) -> None:
        super().__init__(*args, **more)
        self.fields["earliest"].widget.input_type = "datetime-local"

    def clean_earliest(self) -> datetime.datetime | None:
        text = self.cleaned_data["earliest"].strip()
        try:
            return exact_moment(text, self.shop, "earliest") if text else None
        except Refused as refused:
            raise forms.ValidationError(refused.message) from refused

    def clean(self) -> dict[str, Any]:
        data = super().clean()
        earliest, done = data.get("earliest"), data.get("at") or self.now
        if earliest is not None and earliest <= done:
            self.add_error("earliest", _now("That is before the last ply was on. Check the day."))
        elif earliest is not None and earliest > done + LONGEST_IN_MOLD:
            self.add_error("earliest", _now("That is more than 90 days after the last ply. Check the day."))
        return data

    @property
    def earliest_pull(self) -> datetime.datetime | LeftAlone:
        """What was said; else what the part that is in it wants when this is written."""
        return self.cleaned_data["earliest"] or LeftAlone(earliest_after_last_ply)
