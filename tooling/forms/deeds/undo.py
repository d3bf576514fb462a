"""Voiding an entry, and putting another in its place."""

import datetime
from typing import Any
from uuid import UUID, uuid4

from django import forms
from django.utils.translation import gettext as _now
from django.utils.translation import gettext_lazy as _

from tooling.forms.deeds import corrected
from tooling.forms.deeds.also import AlsoPart
from tooling.forms.deeds.base import NOT_SAID, DeedForm, chips, words
from tooling.forms.deeds.hands import PersonField, ask_hands
from tooling.forms.deeds.surface import LONGEST_LOT
from tooling.forms.deeds.uses import LONGEST_PART, LONGEST_SERIAL, count_field
from tooling.forms.deeds.when import OF_THE_TIME, exact_moment
from tooling.models import Entry, Person, ReleaseSystem, Tool
from tooling.selectors.hands import hands
from tooling.services.deeds.undo import facts_of
from tooling.words.terms import AREAS, CAME_OFF, CAUSES, COAT_REASONS, FAULTS

YES_NO = [NOT_SAID, ("yes", _("yes")), ("no", _("no"))]
WRONG_TOOL = "tool"
BECAUSE = {
    "tapped": _("tapped wrong"),
    WRONG_TOOL: _("wrong tool"),
    "day": _("wrong day"),
    "twice": _("logged twice"),
}
LONGEST_CODE = 40
_RIGHT_TOOL = _("The same is written there, in the same step. Left empty, it is only void here.")
_BOOLEANS = ("film", "part_damaged", "tool_damaged", "inserts_back", "passed")
_AS_BOOLEAN = {"yes": True, "no": False}

# What can be corrected of each kind besides time, hands and words.
FIELDS = {
    "pull": (
        "count", "came_off", "film", "part", "serial", "cause", "fault", "surface", "part_damaged", "tool_damaged",
        "inserts_back",
    ),
    "coat": ("count", "area", "release_system", "lot", "reason"),
    "sealer": ("count", "area", "lot"),
    "film": ("lot",),
    "lay_up": ("part", "serial", "film", "earliest_pull"),
    "lay_up_done": ("earliest_pull",),
    "strip": ("area", "using"),
    "repair": ("area", "lot", "stands"),
    "polish": ("area", "lot", "using"),
    "clean": ("using",),
    "inspected": ("passed",),
    "release_check": ("using", "passed"),
    "interval": ("count", "part"),
    "release_system": ("release_system",),
    "installed": ("mold",),
    "removed": ("serial",),
    "resurfaced": ("lot",),
    "reading": (
        "quantity", "geometry", "spot", "value", "unit", "minutes", "standard", "instrument", "calibrated_until",
    ),
    "making": ("count", "lot"),
    "used": ("count", "part", "serial"),
    "check": ("part", "serial"),
    "hold": ("reason",),
    "abandoned": ("reason",),
    "wax_wanted": ("reason",),
    "retired": ("reason",),
    "reinstated": ("reason",),
}  # fmt: skip


class VoidForm(AlsoPart, DeedForm):
    """Why it never was; where it was only the wrong tool, on which one it was."""

    CALLED = {"reason": "why", "tool": "right_tool"}
    LEFT_OUT: tuple[str, ...] = (*OF_THE_TIME, "note")
    ALWAYS_SHOWN = True

    because = chips(_("Why"), list(BECAUSE.items()))
    right_tool = words(_("The code of the right tool"), longest=LONGEST_CODE, help_text=_RIGHT_TOOL)
    why = words(_("In your own words"), lines=2)

    def __init__(self, *args: Any, **more: Any) -> None:
        super().__init__(*args, **more)
        for name in self.LEFT_OUT:
            del self.fields[name]

    def _at(self, data: dict[str, Any]) -> None:
        return None

    def clean(self) -> dict[str, Any]:
        data = super().clean()
        if not data.get("because") and not data.get("why") and not self.errors.keys() & {"because", "why"}:
            self.add_error("why", _now("Say why: it stays beside what is struck through."))
        code = data.get("right_tool", "").strip() if data.get("because") == WRONG_TOOL else ""
        data["right_tool"] = Tool.objects.called(code).first() if code else None
        if code and data["right_tool"] is None:
            text = _now("There is no tool %(code)s. Write the code as it stands on its tag.")
            self.add_error("right_tool", text % {"code": code})
        return data

    @property
    def reason(self) -> str:
        """Chip and words as one line."""
        data = self.cleaned_data
        chip = BECAUSE.get(data["because"], "")
        return ": ".join(str(text) for text in (chip, data["why"]) if text)


class CorrectForm(VoidForm):
    """The entry's own facts, to be changed, and why."""

    CALLED = {"at": "when"}
    LEFT_OUT = ("at", "at_time", "at_exact", "right_tool")

    because = chips(_("Why"), [(key, BECAUSE[key]) for key in ("tapped", "day")])

    when = forms.CharField(label=_("When"), max_length=40)
    note = words(_("In words"), lines=2)
    count = count_field(_("Count"))
    area = chips(_("Where"), list(AREAS.items()))
    came_off = chips(_("How it came off"), [NOT_SAID, *CAME_OFF.items()])
    film = chips(_("A fresh film"), YES_NO)
    part = words(_("Part number"), longest=LONGEST_PART)
    serial = words(_("Serial number, or several"), longest=LONGEST_SERIAL)
    release_system = forms.ChoiceField(label=_("Another recipe’s coat"), required=False)
    earliest_pull = words(_("Not to be pulled before"), longest=40)
    cause = chips(_("Cause"), [NOT_SAID, *CAUSES.items()])
    fault = chips(_("Seen on it"), [NOT_SAID, *FAULTS.items()])
    surface = forms.ModelChoiceField(
        label=_("Where"), queryset=Tool.objects.none(), required=False, empty_label=_("not said"),
        to_field_name="code",
    )  # fmt: skip
    part_damaged = chips(_("The part is marked"), YES_NO)
    tool_damaged = chips(_("The tool is marked"), YES_NO)
    inserts_back = chips(_("All mold inserts are back"), YES_NO)
    lot = words(_("Lot, or the number of the tin"), longest=LONGEST_LOT)
    passed = chips(_("Passed"), YES_NO[1:])
    reason = words(_("Because"))

    def __init__(self, *args: Any, entry: Entry, surfaces: list[int], **more: Any) -> None:
        self.entry = entry
        super().__init__(*args, **more)
        self.units = self.who.units
        self._own = corrected.fields(entry, self.units)
        self._asked = tuple(dict.fromkeys([*FIELDS.get(entry.kind, ()), *self._own]))
        self._keep_fields(self._asked)
        if not self.is_bound:
            del self.fields["of_two"]
        by = self.fields["by"]
        by.required, by.empty_label = False, _("nobody named")
        by.queryset = hands() | Person.objects.filter(pk=entry.by_id)
        self._fill(surfaces)

    def _keep_fields(self, kept: tuple[str, ...]) -> None:
        hidden = ("token", "waited", "shown", "look")
        always = (*hidden, "by", "when", "of_two", "note", "also", "because", "why")
        for name in set(self.fields) - {*always, *kept}:
            del self.fields[name]
        self.fields |= self._own
        self.order_fields([*hidden, "when", "of_two", "by", *kept, "note", "also", "because", "why"])
        for name in ("when", "earliest_pull"):
            if name in self.fields:
                self.fields[name].widget.input_type = "datetime-local"
        if self.entry.kind == "coat":
            self.fields["reason"] = chips(_("Because"), [NOT_SAID, *COAT_REASONS.items()])
            others = ReleaseSystem.objects.order_by("code").values_list("code", flat=True)
            self.fields["release_system"].choices = [("", _("no, its own")), *((code, code) for code in others)]

    def _fill(self, surfaces: list[int]) -> None:
        facts = facts_of(self.entry)
        self.initial |= {"when": self._local(self.entry.at), "by": self.entry.by_id, "note": facts.get("note", "")}
        for name in set(self.fields) & facts.keys() - {"note"}:
            self.initial[name] = facts[name]
        self.initial |= corrected.initial(self.entry, self.units)
        for name in set(self.fields) & set(_BOOLEANS):
            self.initial[name] = {True: "yes", False: "no"}.get(facts.get(name), "")
        if self.entry.earliest_pull is not None and "earliest_pull" in self.fields:
            self.initial["earliest_pull"] = self._local(self.entry.earliest_pull)
        if "surface" in self.fields:
            tools = Tool.objects.filter(pk__in={*surfaces, facts.get("surface") or 0})
            self.fields["surface"].queryset = tools
            self.initial["surface"] = next((tool.code for tool in tools if tool.pk == facts.get("surface")), None)

    def _local(self, at: datetime.datetime) -> str:
        return f"{at.astimezone(self.shop.zone):%Y-%m-%dT%H:%M}"

    def clean(self) -> dict[str, Any]:
        data = super().clean()
        for name in ("when", "earliest_pull"):
            if data.get(name):
                with self.told():
                    data[name] = self._instant(name, data[name])
        if not self.twice:
            del self.fields["of_two"]
        for name, text in (corrected.wrong(self.entry, data) if not self.errors else {}).items():
            self.add_error(name, text)
        if not self.errors and self._same(data):
            self.add_error(None, _now("Nothing is changed yet: what you sent is what stands there."))
        return data

    def _same(self, data: dict[str, Any]) -> bool:
        """Whether every fact, the time and the hands are those of the entry."""
        facts = facts_of(self.entry)
        said = {**self.changes(data), "at": data["when"], "by": data["by"]}
        stood = {**facts, "at": self.entry.at, "by": self.entry.by}
        return all(_plain(stood.get(name)) == _plain(value) for name, value in said.items())

    def _instant(self, name: str, text: str) -> datetime.datetime:
        """What was left as it stood keeps its seconds."""
        old = self.entry.at if name == "when" else self.entry.earliest_pull
        if old is not None and text == self._local(old):
            return old
        return self.typed_moment(text, name) if name == "when" else exact_moment(text, self.shop, name)

    def changes(self, data: dict[str, Any] | None = None) -> dict[str, Any]:
        """The facts as they stand now, empty ones as None."""
        data = self.cleaned_data if data is None else data
        asked = [name for name in self._asked if name in self.fields]
        facts = corrected.kept(self.entry, {name: data[name] for name in (*asked, "note")})
        for name in facts.keys() & set(_BOOLEANS):
            facts[name] = _AS_BOOLEAN.get(facts[name])
        if "surface" in facts and facts["surface"] is not None:
            facts["surface"] = facts["surface"].pk
        if "area" in facts:
            facts["area"] = facts["area"] or "whole"
        return {name: None if value == "" else value for name, value in facts.items()}

    def _told(self) -> dict[str, Any]:
        """Time and hands are facts of the entry here."""
        data = self.cleaned_data
        return {"at": data["when"], "by": data["by"], "recorded_by": self.who, "token": data["token"]}


def _plain(value: Any) -> Any:
    """An empty answer is none."""
    return None if value == "" else value


class RubOutForm(forms.Form):
    """The token alone: a strip of tape has nothing to fill in. A station asks the hand that wrote it."""

    token = forms.UUIDField(required=False)
    by = PersonField(queryset=Person.objects.none())

    def __init__(self, data: Any = None, *, who: Person, wrote: int | None, now: datetime.datetime) -> None:
        """`wrote`: the key of the person whose hands they were; where nobody was named, any hand takes it back."""
        super().__init__(data)
        self.who = who
        if who.is_station:
            same = hands() if wrote is None else hands().filter(pk=wrote)
            ask_hands(self, who, at=now, of=same)
        else:
            del self.fields["by"]

    @property
    def stamp(self) -> UUID | None:
        """The token, if there is a proper one."""
        return self.cleaned_data.get("token") if self.is_valid() else None

    @property
    def next_stamp(self) -> UUID:
        """What is sent with the answer to whose hands it was: the same token again, so that twice is once."""
        self.is_valid()
        return getattr(self, "cleaned_data", {}).get("token") or uuid4()
