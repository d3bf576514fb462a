"""A tool as it is met on a rack: what it is, and what is known of its past."""

import datetime
from typing import Any
from uuid import uuid4

from django import forms
from django.core import signing
from django.core.exceptions import ValidationError
from django.utils.translation import gettext as _now
from django.utils.translation import gettext_lazy as _

from shared.errors import Refused
from tooling.calc.check import MOST
from tooling.forms.catalogue import PlaceField
from tooling.forms.deeds.base import chips
from tooling.forms.pictures import accepted
from tooling.forms.told import Told
from tooling.models import Kind, Place, ReleaseSystem, Shop, Tool, ToolAlias, check_code, propose_code, tidy_code
from tooling.selectors import scans
from tooling.selectors.walk import Proposed
from tooling.services.pictures import Stored, store
from tooling.services.times import NOON, day_in_bounds, in_zone
from tooling.services.walk import sent_before
from tooling.words import walk as words
from tooling.words.counting import capital
from tooling.words.terms import KINDS

PROPOSED, NONE = "-proposed", ""
TODAY, YESTERDAY, ON_A_DAY, UNSURE, BARE = "today", "yesterday", "day", "unsure", "bare"
WEEKS = {"1": 1, "2": 2, "4": 4, "8": 8, "12": 12}
_SALT = "tooling.walk.picture"
_LONGEST_WRITTEN = ToolAlias._meta.get_field("code").max_length or 0


def code_field(label: Any) -> forms.CharField:
    """The code of a new tool, as somebody writes it."""
    attrs = {"autocapitalize": "characters", "autocomplete": "off", "spellcheck": "false"}
    return forms.CharField(
        label=label,
        max_length=200,
        widget=forms.TextInput(attrs=attrs),
        error_messages={"required": _("Which code?")},
    )


def possible(written: str) -> str:
    """A code that can be: this one, or the nearest to it. Raises ValidationError where there is none."""
    try:
        check_code(written)
    except ValidationError:
        proposed = propose_code(written)
        if not proposed:
            raise
        return proposed
    return written


class PicturePart(forms.Form):
    """One picture. Its files are stored when it comes in, so that a form that comes back still has it."""

    kept = forms.CharField(required=False, max_length=500, widget=forms.HiddenInput)
    picture = forms.FileField(label=_("Picture"), required=False, allow_empty_file=True)

    def __init__(self, *args: Any, **more: Any) -> None:
        super().__init__(*args, **more)
        self.fields["picture"].widget.attrs.update({"accept": accepted(), "capture": "environment"})
        self.stored: Stored | None = None

    def take_picture(self) -> None:
        """Stores what was sent, or finds again what was sent before; a form shown again carries it along."""
        file = self.files.get("picture")
        try:
            if file is not None:
                self.stored = store(file)
            elif sent := self.data.get("kept", ""):
                self.stored = signing.loads(sent, salt=_SALT)
        except Refused as refused:
            self.add_error("picture", refused.message)
        except signing.BadSignature:
            self.add_error("picture", _now("The picture was lost on the way. Take it once more."))
        self.data = self.data.copy()
        self.data["kept"] = signing.dumps(self.stored, salt=_SALT) if self.stored is not None else ""


class ToolPart(PicturePart, Told):
    """What a tool is and its home. `there`: the tool that has the code already."""

    token = forms.UUIDField(widget=forms.HiddenInput)
    code = code_field(_("Code, as it is written on it"))
    name = forms.CharField(label=_("Name, if it has one"), required=False, max_length=200)
    kind = chips(_("Kind"), list(KINDS.items()), required=True, error_messages={"required": _("Which kind?")})
    place = PlaceField(Place.objects.order_by("code"), label=_("Home"), required=False, empty_label=_("none"))
    recipe = forms.ChoiceField(label=_("Release recipe"), required=False)

    def __init__(self, data: Any = None, files: Any = None, *, proposed: Proposed, **more: Any) -> None:
        """`proposed`: the recipe of each kind."""
        super().__init__(data, files, **more)
        self.initial.setdefault("token", uuid4())
        self.proposed, self.there, self.written = proposed, None, ""
        codes = [(code, code) for code in ReleaseSystem.objects.values_list("code", flat=True)]
        self.fields["recipe"].choices = [*self._proposals(), *codes, (NONE, _now("none"))]

    def _proposals(self) -> list[tuple[str, str]]:
        if not self.proposed.by_kind:
            return []
        said = _now("as usual: %(recipes)s") % {"recipes": words.proposals(self.proposed.by_kind)}
        return [(PROPOSED, said)]

    def clean_code(self) -> str:
        """A code that can be and is free. What is written on the tool and cannot be one stays known as an old one."""
        written = tidy_code(scans.code_on(self.cleaned_data["code"]))
        there = Tool.objects.called(written).first()
        code = written if there is not None else possible(written)
        there = there or Tool.objects.called(code).first()
        if there is not None and there != sent_before(self.cleaned_data.get("token")):
            self.there = there
            raise ValidationError(_now("%(code)s is there already.") % {"code": there.code})
        self.written = written if written != code and len(written) <= _LONGEST_WRITTEN else ""
        return there.code if there is not None else code

    def clean(self) -> dict[str, Any]:
        """The picture is kept whatever else is wrong."""
        data = super().clean() or {}
        self.take_picture()
        return data

    def renew(self) -> None:
        """Another token: what stands in the form is sent as a form of its own."""
        self.data = self.data.copy()
        self.data["token"] = str(uuid4())

    def starter(self) -> str:
        """The starter recipe that is taken in together with it, or ""."""
        code = self._recipe()
        return code if code in self.proposed.starters else ""

    def _recipe(self) -> str:
        data = self.cleaned_data
        if data["kind"] not in Kind.WITH_SURFACE:
            return ""
        return self.proposed.by_kind.get(data["kind"], "") if data["recipe"] == PROPOSED else data["recipe"]

    def columns(self) -> dict[str, Any]:
        """What the service is told of the tool."""
        data = self.cleaned_data
        kind = data["kind"]
        system = ReleaseSystem.objects.filter(code=self._recipe()).first()
        name = " ".join(data["name"].split()) or capital(str(KINDS[kind]))
        return {"code": data["code"], "kind": kind, "name": name, "place": data["place"], "release_system": system}


class StartPart(Told):
    """When the last coat went on and how many pulls there were since; not sure is an answer."""

    coat = forms.ChoiceField(required=False, widget=forms.RadioSelect)
    coat_day = forms.DateField(label=_("Which day"), required=False)
    pulls = forms.IntegerField(required=False, min_value=0, max_value=MOST["pulls_since_coat"])
    total = forms.IntegerField(
        label=_("Pulls in all, if known"), required=False, min_value=0, max_value=MOST["total_pulls"]
    )

    def __init__(self, *args: Any, family: str = "", now: datetime.datetime, shop: Shop, **more: Any) -> None:
        """`family`: of its recipe, "" where nobody knows."""
        super().__init__(*args, **more)
        self.now, self.shop = now, shop
        self.initial.setdefault("coat", UNSURE)
        self.fields["coat"].label = words.when_last(family)
        self.fields["coat"].choices = _when(family)
        self.fields["coat_day"].widget = forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d")
        self.fields["pulls"].label = words.pulls_since(family)
        self.fields["pulls"].help_text = _now("Empty: not sure. Then one coat comes first.")
        for name in ("pulls", "total"):
            self.fields[name].widget = forms.TextInput(attrs={"inputmode": "numeric", "autocomplete": "off"})

    def clean(self) -> dict[str, Any]:
        """The day of the coat, and two numbers that fit each other."""
        data = super().clean() or {}
        coat, day = data.get("coat"), data.get("coat_day")
        today = self.now.astimezone(self.shop.zone).date()
        if coat == ON_A_DAY and day is None and "coat_day" not in self.errors:
            self.add_error("coat_day", _now("Which day?"))
        if day is not None:
            self._check_day(day, today)
        pulls, total = data.get("pulls"), data.get("total")
        if pulls is not None and total is not None and coat != BARE and total < pulls:
            self.add_error("total", _now("It has been pulled more often since that coat alone."))
        return data

    def _check_day(self, day: datetime.date, today: datetime.date) -> None:
        try:
            day_in_bounds(day)
        except Refused as refused:
            self.add_error("coat_day", refused.message)
        if day > today:
            self.add_error("coat_day", _now("That day is still to come."))

    def start(self) -> dict[str, Any]:
        """The starting state: dated by the day of the last coat; what nobody remembers is unknown, never today."""
        data = self.cleaned_data
        coat, pulls = data["coat"] or UNSURE, data["pulls"]
        known = {"total_pulls": data["total"]}
        if coat == BARE:
            return {"prepared": "no", "at": None, "pulls_since_coat": None, **known}
        if coat == UNSURE:
            return {"prepared": "unknown", "at": None, "pulls_since_coat": pulls, **known}
        prepared = "unknown" if pulls is None else "yes"
        return {"prepared": prepared, "at": self._at(coat), "pulls_since_coat": pulls, **known}

    def _at(self, coat: str) -> datetime.datetime:
        zone = self.shop.zone
        today = self.now.astimezone(zone).date()
        back = WEEKS[coat] * 7 if coat in WEEKS else int(coat == YESTERDAY)
        day = self.cleaned_data["coat_day"] if coat == ON_A_DAY else today - datetime.timedelta(days=back)
        return min(in_zone(datetime.datetime.combine(day, NOON), zone), self.now)


class WalkForm(StartPart, ToolPart):
    """All of it on one page."""


class StartForm(StartPart):
    """How a tool stands that is there already."""

    token = forms.UUIDField(widget=forms.HiddenInput)

    def __init__(self, *args: Any, **more: Any) -> None:
        super().__init__(*args, **more)
        self.initial.setdefault("token", uuid4())


def _when(family: str) -> list[tuple[str, str]]:
    weeks = [(key, _now("%(n)d weeks ago") % {"n": n}) for key, n in WEEKS.items() if n > 1]
    return [
        (TODAY, _now("today")),
        (YESTERDAY, _now("yesterday")),
        ("1", _now("a week ago")),
        *weeks,
        (ON_A_DAY, _now("on a day")),
        (UNSURE, _now("not sure")),
        (BARE, words.none_on(family)),
    ]
