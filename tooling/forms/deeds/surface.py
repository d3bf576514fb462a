"""What goes on the surface: coats and film."""

import datetime
from collections.abc import Sequence
from typing import Any
from uuid import UUID

from django import forms
from django.utils.translation import gettext_lazy as _
from django.utils.translation import ngettext

from tooling.forms.deeds.asks import AskingForm
from tooling.forms.deeds.base import LONGEST_WAIT, SHORT_WAIT, DeedForm, chips, words
from tooling.forms.deeds.uses import count_field
from tooling.models import ReleaseSystem, Stuff
from tooling.models.tins import LONGEST_LOT
from tooling.selectors.tins import lot_of
from tooling.services.deeds.together import token_of
from tooling.services.deeds.undo import sent_before
from tooling.words.terms import AREAS, COAT_REASONS

COAT, SEALER, FILM = "coat", "sealer", "film"
WHAT = [(SEALER, _("sealer")), (COAT, _("release coat")), (FILM, _("film"))]


def uuid_in(data: Any) -> UUID | None:
    """The token that a form of one button came with, None where it has lost it."""
    try:
        return UUID(data.get("token", ""))
    except ValueError:
        return None


def own_unless_sent(form: DeedForm, own: str | None) -> str:
    """The tool's own recipe, which is not offered. What was sent before may be its own by now: it is offered again."""
    return "" if form.is_bound and sent_before(form.data["token"]) else own or ""


def ago_in(data: Any) -> datetime.timedelta | None:
    """How long a form of one button was held up by a bad connection; None where it was not."""
    text = data.get("waited", "")
    seconds = int(text) if text.isascii() and text.isdigit() and len(text) < 9 else 0
    waited = datetime.timedelta(seconds=seconds)
    return min(waited, LONGEST_WAIT) if waited >= SHORT_WAIT else None


class LotForm(DeedForm):
    """What went on, and from which tin: that which is open here unless another lot is typed for this one."""

    what = chips(_("What went on"), WHAT, initial=COAT)
    lot = words(_("Lot, or the number of the tin"), longest=LONGEST_LOT)
    # The tins that the page showed.
    tins = forms.CharField(required=False, max_length=100, widget=forms.HiddenInput)

    def __init__(self, *args: Any, **more: Any) -> None:
        super().__init__(*args, **more)
        # Without a word in it nobody could tell by style alone whether it is filled in.
        self.fields["lot"].widget.attrs |= {"list": "lots", "placeholder": " "}

    @property
    def what_went_on(self) -> str:
        """Sealer, coat or film."""
        return self.cleaned_data["what"] or COAT

    def lot_said(self) -> str:
        """The lot that was typed, else that of the tin that was shown."""
        data = self.cleaned_data
        return data["lot"] or lot_of(data["tins"], self.what_went_on, self.who)


class CoatForm(AskingForm, LotForm):
    """What went on. Everything but the button may be left as it is."""

    count = count_field(_("How many, one after the other"))
    area = chips(_("Where"), list(AREAS.items()), initial="whole")
    release_system = forms.ChoiceField(label=_("Another recipe’s coat"), required=False)
    reason = chips(_("Why"), [("", _("not said")), *COAT_REASONS.items()])

    def __init__(self, *args: Any, own: str | None, step: str, wanted: int = 0, **more: Any) -> None:
        """`wanted`: the coats that the recipe wants of a bare surface; 0 where nobody knows."""
        super().__init__(*args, **more)
        self.wanted = wanted
        own = own_unless_sent(self, own)
        others = ReleaseSystem.objects.exclude(code=own).order_by("code").values_list("code", flat=True)
        self.fields["release_system"].choices = [("", _("no, its own")), *((code, code) for code in others)]
        self.fields["what"].initial = step or COAT

    def clean(self) -> dict[str, Any]:
        data = super().clean()
        count = data.get("count") or 1
        if self.wanted and count > 2 * self.wanted and not self.looking:
            text = ngettext(
                "%(count)d at once? %(wanted)d coat is wanted.",
                "%(count)d at once? %(wanted)d coats are wanted.",
                self.wanted,
            )
            self.ask(f"count {count}", "count", text % {"count": count, "wanted": self.wanted})
        return data

    def facts(self) -> dict[str, Any]:
        """What the entry says: a sealer has no recipe and no reason, a film has its lot alone."""
        data, what = self.cleaned_data, self.what_went_on
        # A tin that is open here is one of the tool's own recipe.
        lot = data["lot"] if data["release_system"] else self.lot_said()
        if what == FILM:
            return {"lot": lot}
        facts = {"count": data["count"] or 1, "area": data["area"] or "whole", "lot": lot}
        if what == SEALER:
            return facts
        return {**facts, "release_system": data["release_system"], "reason": data["reason"]}


class TogetherForm(LotForm):
    """What went on several tools in one go."""

    def __init__(self, *args: Any, tools: Sequence[int], **more: Any) -> None:
        """`tools`: their keys."""
        super().__init__(*args, **more)
        self.tools = tools

    @property
    def was_sent(self) -> bool:
        token = self.cleaned_data.get("token")
        return token is not None and sent_before(*(token_of(token, key) for key in self.tools))

    def facts(self) -> dict[str, Any]:
        """What each entry says; all of it on the whole surface."""
        return {"lot": self.lot_said()}


class FilmForm(LotForm):
    """A film that went on."""

    @property
    def what_went_on(self) -> str:
        return FILM


class TinForm(DeedForm):
    """A tin that is opened: its lot, and until when it is good."""

    stuff = chips(_("What is in it"), Stuff.choices, required=True)
    lot = words(_("Lot, or the number of the tin"), longest=LONGEST_LOT)
    expires_on = forms.DateField(
        label=_("Date on the tin (may be left empty)"),
        required=False,
        widget=forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d"),
        error_messages={"invalid": _("Write the day as 2026-11-30.")},
    )

    def __init__(self, *args: Any, stuffs: list[str], **more: Any) -> None:
        super().__init__(*args, **more)
        for name in ("at", "at_time", "at_exact", "note"):
            del self.fields[name]
        self.fields["lot"].widget.attrs["list"] = "lots"
        self.fields["stuff"].choices = [one for one in Stuff.choices if one[0] in stuffs]
        self.fields["stuff"].error_messages["required"] = _("Say what is in it.")
        self.fields["stuff"].initial = stuffs[0] if len(stuffs) == 1 else None

    def _at(self, data: dict[str, Any]) -> None:
        return None

    def facts(self) -> dict[str, Any]:
        """What is known of the tin."""
        data = self.cleaned_data
        return {
            **{name: data[name] for name in ("stuff", "lot", "expires_on", "token")},
            "by": data.get("by") or self.who,
            "ago": self.said()["ago"],
        }
