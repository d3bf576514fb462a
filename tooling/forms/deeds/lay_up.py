"""Start of lay-up: the part, its serial numbers, and why it is started where something stands against it."""

import datetime
from collections.abc import Sequence
from functools import cached_property
from typing import Any

from django import forms
from django.utils.translation import gettext as _now
from django.utils.translation import gettext_lazy as _

from shared.errors import Refused
from tooling.calc.entry import part_key
from tooling.forms.deeds.asks import AskingForm
from tooling.forms.deeds.base import chips, words
from tooling.forms.deeds.halves import HalvesPart
from tooling.forms.deeds.hands import ask_anew
from tooling.forms.deeds.when import exact_moment
from tooling.models import PartRevision, Tool
from tooling.models.serials import split as serials
from tooling.selectors.floor import LONGEST_IN_MOLD, time_in_mold
from tooling.selectors.parts import revision_called, revision_chosen, with_revisions
from tooling.selectors.usable.reason import LEAD, Reason
from tooling.services.drafts import LeftAlone
from tooling.words.terms import LAY_UP_REASONS

LONGEST_PART = 80
LONGEST_SERIAL = 2000
# It is started with what stands against it known, or it has happened and is only written down.
START, HAPPENED = "start", "happened"
# Why all the same: only in words of its own. Nothing is chosen beforehand.
OTHER = "other"
_LOCAL = "%Y-%m-%dT%H:%M"


class LayUpForm(HalvesPart, AskingForm):
    """The part that is begun. What was made in the tool before is a chip; anything else is typed."""

    CALLED = {"part": "part_typed", "earliest_pull": "earliest"}
    PRESSED = "anyway"

    part = forms.CharField(label=_("Part"), required=False, max_length=LONGEST_PART)
    part_typed = words(_("Part number"), longest=LONGEST_PART)
    serial = words(_("Serial number, or several"), lines=2, longest=LONGEST_SERIAL)
    film = forms.BooleanField(label=_("a fresh film is on it"), required=False)
    earliest = words(_("Earliest pull"), longest=40)
    # What the page filled in: left as it is, it follows the part and the time that are sent.
    filled_in = forms.CharField(required=False, widget=forms.HiddenInput)
    reason = chips(_("Why all the same?"), [*LAY_UP_REASONS.items(), (OTHER, _("something else"))])
    reason_words = words(_("In your own words"), longest=300)
    anyway = forms.CharField(required=False, widget=forms.HiddenInput)

    def __init__(
        self, *args: Any, tool: Tool, parts: list[str], named: tuple[str, str] | None = None, **more: Any
    ) -> None:
        """`named`: a part and the name of its revision for which the page was opened."""
        super().__init__(*args, **more)
        self.tool, self.parts, self.named = tool, parts, named
        self.fields["earliest"].widget.input_type = "datetime-local"
        self.fields["part_typed"].widget.attrs["list"] = "parts"
        self.fields["serial"].help_text = _now("One on each line, or with commas between.")
        if parts:
            self.fields["part"].initial = parts[0]

    @property
    def asked_part(self) -> str:
        """The part that the go or no-go is asked for: what was chosen, else what was made in it last."""
        if not self.is_bound:
            return self.fields["part"].initial or ""
        asked = self.data.get("part_typed", "").strip() or self.data.get("part", "").strip()
        # Asked before it is cleaned; PostgreSQL has no letter NUL, and says so loudly.
        return "" if "\x00" in asked else asked

    @cached_property
    def revisions(self) -> list[PartRevision]:
        """Those of that part, the newest first."""
        return with_revisions(self.asked_part)[1] if self.asked_part else []

    @property
    def asked_revision(self) -> PartRevision | None:
        """That which was chosen, else that for which the page was opened, else the newest."""
        chosen = revision_chosen(self.revisions, self.data.get("revision", "")) if self.is_bound else None
        if chosen is None and self.named is not None and part_key(self.named[0]) == part_key(self.asked_part):
            chosen = revision_called(self.revisions, self.named[1])
        return chosen or next(iter(self.revisions), None)

    @property
    def time_of_revision(self) -> dict[str, datetime.timedelta]:
        """How long the part stays in the mold by that revision, by its number, where it is known."""
        long = time_in_mold(self.asked_part, self.asked_revision)
        return {} if long is None else {self.asked_part: long}

    @property
    def start(self) -> datetime.datetime:
        """The moment that the go or no-go is asked for."""
        return (self.cleaned_data.get("at") if self.is_bound and hasattr(self, "cleaned_data") else None) or self.now

    @property
    def with_film(self) -> bool:
        """Whether a fresh film is said to be on."""
        return bool(self.is_bound and self.data.get("film"))

    def clean_serial(self) -> str:
        """However they were put under one another: with commas between."""
        return ", ".join(serials(self.cleaned_data["serial"]))

    def clean_earliest(self) -> datetime.datetime | None:
        text = self.cleaned_data["earliest"].strip()
        if not text or text == self.data.get("filled_in", ""):
            return None
        try:
            return exact_moment(text, self.shop, "earliest")
        except Refused as refused:
            raise forms.ValidationError(refused.message) from refused

    def clean(self) -> dict[str, Any]:
        data = super().clean()
        data["part"] = data.get("part_typed") or data.get("part") or ""
        earliest = data.get("earliest")
        start = data.get("at") or self.now
        if earliest is not None and earliest <= start:
            self.add_error("earliest", _now("That is before the lay-up starts. Check the day."))
        elif earliest is not None and earliest > start + LONGEST_IN_MOLD:
            self.add_error("earliest", _now("That is more than 90 days after the start. Check the day."))
        part, serial = data["part"], data.get("serial", "")
        self.ask_part(part, "part_typed", known=set(self.parts))
        self.ask_serials(self.tool, part, serial, data.get("token"))
        return data

    def weigh(self, stops: Sequence[Reason]) -> bool:
        """Whether it may be written although these stand against it; else what is missing is said."""
        if not stops:
            return True
        anyway = self.cleaned_data["anyway"]
        if any(one.key not in self.seen for one in stops):
            self.add_error(None, _now("It is no go: see what stands against it, and what mends it."))
        elif anyway == HAPPENED:
            return True
        elif not self.may_start(stops):
            self.add_error(None, _now("Only a lead starts it all the same. If it has happened, say so below."))
        elif anyway != START:
            self.add_error(None, _now("It is no go, for the reasons above. If it is started all the same, say why."))
        elif not self.why:
            self.add_error("reason", _now("Say why it is started all the same: the history keeps it."))
        elif not self.who.can_lead and any(one.override == LEAD for one in stops):
            ask_anew(self, self.who)
        return not self.errors

    def may_start(self, stops: Sequence[Reason]) -> bool:
        """Whether these hands may start it all the same; at a station the hands that are named."""
        by = self.cleaned_data.get("by") if self.is_bound and self.who.is_station else self.who
        return self.who.can_lead or bool(by and by.can_lead) or all(one.override != LEAD for one in stops)

    @property
    def why(self) -> str:
        """The chip's word as it is kept, or what was typed."""
        chip, typed = self.cleaned_data["reason"].replace(OTHER, ""), self.cleaned_data["reason_words"].strip()
        return f"{LAY_UP_REASONS[chip]}; {typed}" if chip and typed else chip or typed

    def fill_in_earliest(self) -> None:
        """Writes the earliest pull into its field, where nobody has said another; it follows part and start."""
        asked = self.data if self.is_bound else {}
        if asked.get("earliest", "") != asked.get("filled_in", ""):
            return
        long = time_in_mold(self.asked_part, self.asked_revision)
        filled = (self.start + long).astimezone(self.shop.zone).strftime(_LOCAL) if long is not None else ""
        if self.is_bound:
            self.data = self.data.copy()
            self.data["earliest"] = self.data["filled_in"] = filled
        else:
            self.initial |= {"earliest": filled, "filled_in": filled}

    def facts(self) -> dict[str, Any]:
        """What the entry says of the part."""
        data, revision = self.cleaned_data, self.asked_revision
        return {
            "part": data["part"],
            "revision": revision,
            "serial": data["serial"],
            "film": True if data["film"] else None,
            "earliest_pull": data["earliest"] or LeftAlone(lambda _tool: time_in_mold(data["part"], revision)),
            "reason": self.why,
        }
