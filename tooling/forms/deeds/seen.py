"""What is seen when a part is off: of the part, of the tool, and whether the inserts are back."""

from collections.abc import Sequence
from operator import attrgetter
from typing import Any

from django import forms
from django.forms import BoundField
from django.utils.translation import gettext as _now
from django.utils.translation import gettext_lazy as _

from tooling.calc.entry import HARD
from tooling.forms.deeds.base import NOT_SAID, DeedForm, chips, ticks, words
from tooling.forms.deeds.hands import ask_hands
from tooling.forms.deeds.pictures import WithPictures
from tooling.forms.deeds.uses import LONGEST_SERIAL
from tooling.forms.deeds.when import OF_THE_TIME
from tooling.models import Entry, Person, Tool
from tooling.selectors.hands import hands
from tooling.services.deeds.unseen import wants_look
from tooling.words.terms import CAME_OFF, CAUSES, FAULTS, SPOTS, spots_of

LOOKED = [("no", _("no")), ("yes", _("yes")), ("not_looked", _("not looked"))]
ALL, SOME = "all", "some"
STUCK, GONE = "stuck", "gone"
WHERE_IT_IS = [("", _("back")), (STUCK, _("stuck in the part")), (GONE, _("not found"))]


class InsertsForm(DeedForm):
    """Whether the mold inserts are back: all of them with one tap, else where each one is."""

    # Whether it is asked for nothing else.
    MUST = False

    inserts = forms.ChoiceField(choices=[(ALL, ALL), (SOME, SOME)], required=False)
    no_number = forms.BooleanField(label=_("that part has no number"), required=False)
    stuck_in = words(_("Stuck in the part with serial number"), longest=LONGEST_SERIAL)

    def __init__(self, *args: Any, pull: Entry, inserts: Sequence[Tool], missing: Sequence[Entry], **more: Any) -> None:
        super().__init__(*args, **more)
        for name in OF_THE_TIME:
            del self.fields[name]
        self.initial["stuck_in"] = next((entry.serial for entry in missing if entry.serial), pull.serial)
        where = {entry.tool: STUCK if entry.serial else GONE for entry in missing}
        self.asked_of = sorted({*inserts, *where}, key=attrgetter("code"))
        for one in self.asked_of:
            self.fields[f"insert_{one.pk}"] = chips(one.code, WHERE_IT_IS, initial=where.get(one, ""))

    @property
    def each(self) -> list[BoundField]:
        """A question for each insert."""
        return [self[f"insert_{one.pk}"] for one in self.asked_of]

    @property
    def opened(self) -> bool:
        """Whether the questions for each are shown at once: something of them was answered, or is wrong."""
        return bool(self.errors.get("inserts")) or any(field.value() for field in self.each)

    def _at(self, data: dict[str, Any]) -> None:
        return None

    def clean(self) -> dict[str, Any]:
        data = super().clean()
        missing = [*self._said(STUCK), *self._said(GONE)]
        if data.get("inserts") == SOME and not missing:
            self.add_error("inserts", _now("Tap which one is missing."))
        elif data.get("inserts") == ALL and missing:
            text = _now("%(insert)s is said to be missing. Tap back, or write which one is missing.")
            self.add_error("inserts", text % {"insert": missing[0].code})
        elif self._said(STUCK) and not data.get("stuck_in", "").strip() and not data.get("no_number"):
            self.add_error("stuck_in", _now("Say in which part it is stuck, or that the part has no number."))
        elif self.MUST and self.back() is None and "inserts" not in self.errors:
            self.add_error("inserts", _now("Tap whether they are back."))
        return data

    def _said(self, answer: str) -> list[Tool]:
        return [one for one in self.asked_of if self.cleaned_data.get(f"insert_{one.pk}") == answer]

    def back(self) -> bool | None:
        """Whether all are back; None where nobody said."""
        if self._said(STUCK) or self._said(GONE):
            return False
        return True if self.cleaned_data.get("inserts") == ALL else None

    def places(self) -> dict[str, Any]:
        """Where each one is."""
        serial = self.cleaned_data.get("stuck_in", "").strip() or _now("no number")
        return {"stuck": dict.fromkeys(self._said(STUCK), serial), "gone": self._said(GONE), "back": self._said("")}


class CountForm(InsertsForm):
    """The inserts and nothing else, by whoever looked."""

    MUST = True

    def __init__(self, *args: Any, **more: Any) -> None:
        super().__init__(*args, **more)
        del self.fields["note"]


class SeenForm(WithPictures, InsertsForm):
    """What is seen when it is off, all of it to be left: written with the pull that was just logged."""

    came_off = forms.ChoiceField(choices=list(CAME_OFF.items()), required=False)
    looked = chips(_("Is the tool marked?"), LOOKED)
    fault = chips(_("Seen on it"), [("", _("nothing")), *FAULTS.items()])
    part_damaged = forms.BooleanField(label=_("the part is marked"), required=False)
    tool_damaged = forms.BooleanField(label=_("the tool is marked"), required=False)
    surface = forms.ModelChoiceField(
        label=_("Where"),
        queryset=Tool.objects.none(),
        to_field_name="code",
        required=False,
        widget=forms.RadioSelect,
        error_messages={"invalid_choice": _("It can be the tool itself, or a mold insert that was in it.")},
    )
    spots = ticks(_("Where on it"), list(SPOTS.items()))
    cause = chips(_("Cause"), [NOT_SAID, *CAUSES.items()])

    def __init__(self, *args: Any, pull: Entry, surfaces: Sequence[Tool], others: Sequence[Entry], **more: Any) -> None:
        """`others`: the pulls of the other halves that the part came off as well."""
        super().__init__(*args, pull=pull, **more)
        self.pull = pull
        self._fill(pull)
        self.others = others
        for one in others:
            self.fields[f"came_off_{one.tool_id}"] = forms.ChoiceField(choices=list(CAME_OFF.items()), required=False)
        self.fields["spots"].choices = spots_of(pull.tool.kind)
        where = self.fields["surface"]
        where.queryset = Tool.objects.filter(pk__in=[one.pk for one in surfaces])
        where.empty_label = _now("not said")
        self._ask_its_hand()

    def _ask_its_hand(self) -> None:
        """A station asks the hand that wrote the pull; where nobody was named, any. Else it is who is signed in."""
        if not self.who.is_station:
            self.fields.pop("by", None)
            return
        wrote = self.pull.by_id
        ask_hands(self, self.who, at=self.now, of=hands() if wrote is None else hands().filter(pk=wrote))
        self.fields["by"].required = False

    def _fill(self, pull: Entry) -> None:
        """What is known of it already; tapping on takes nothing away."""
        known = pull.payload
        surface = Tool.objects.filter(pk=known.get("surface") or 0).values_list("code", flat=True).first()
        same = known.keys() & {"fault", "cause", "part_damaged", "tool_damaged", "note"}
        looked = {True: "yes", False: "no"}.get(known.get("tool_damaged"), "not_looked")
        self.initial |= {**{name: known[name] for name in same}, "surface": surface, "looked": looked}

    @property
    def other_halves(self) -> list[tuple[Entry, BoundField]]:
        """Each other half’s pull, and the field of its five marks."""
        return [(one, self[f"came_off_{one.tool_id}"]) for one in self.others]

    def clean(self) -> dict[str, Any]:
        data = super().clean()
        asked = "by" in self.fields and not data.get("by") and "by" not in self.errors
        if asked and not self.errors and self._wants_hand():
            self.add_error("by", _now("Whose hands were it? Tap the name, then write it down."))
        return data

    def _wants_hand(self) -> bool:
        """Whether it takes a hold back, changes the mark, or says of an insert where it is."""
        known, facts = self.pull.payload, self.facts()
        marked = facts["tool_damaged"] != known.get("tool_damaged") and (
            "tool_damaged" in known or wants_look(self.pull)
        )
        elsewhere = facts["surface"] != known.get("surface") and (
            self.pull.came_off in HARD or known.get("tool_damaged") is True
        )
        mark = facts.get("came_off", self.pull.came_off) != self.pull.came_off
        placed = any(name == "stuck_in" or name.startswith("insert_") for name in self.changed_data)
        return marked or elsewhere or mark or self.of_another() is not None or (placed and self.back() is not None)

    @property
    def hand(self) -> Person | None:
        """Whose hands: who said so at the station, else whose pull it is."""
        return self.cleaned_data.get("by") or self.pull.by

    @property
    def tapped(self) -> list[tuple[str, str]]:
        """The answers that were given by a button, where the page comes back: they need no second tap."""
        names = ["came_off", "inserts", *(f"came_off_{one.tool_id}" for one in self.others)]
        given = [(name, self[name].value()) for name in names] if "by" in self.errors else []
        return [(name, value) for name, value in given if value]

    def of_another(self) -> tuple[Entry, str] | None:
        """The half whose mark was tapped, and the mark."""
        tapped = ((one, self.cleaned_data[f"came_off_{one.tool_id}"]) for one in self.others)
        return next(((one, mark) for one, mark in tapped if mark), None)

    def not_looked(self) -> bool:
        """Whether somebody said that nobody has looked at the tool. Another mark asks anew."""
        return self.cleaned_data["looked"] == "not_looked" and not self.cleaned_data["came_off"]

    def _note(self) -> str:
        """Where on it, and the words; a place that they name already is not said twice."""
        note = self.cleaned_data["note"]
        spots = [str(SPOTS[one]) for one in self.cleaned_data["spots"]]
        return ": ".join(filter(None, (", ".join(spot for spot in spots if spot not in note), note)))

    def facts(self) -> dict[str, Any]:
        """What is known besides the pull itself; an answer of no about the tool is kept, an empty one is none."""
        data = self.cleaned_data
        surface = data["surface"]
        marked = {"yes": True, "no": False}.get(data["looked"], True if data["tool_damaged"] else None)
        facts = {
            "fault": data["fault"],
            "cause": data["cause"],
            "surface": surface.pk if surface is not None else None,
            "part_damaged": True if data["part_damaged"] else None,
            "tool_damaged": marked,
            "note": self._note(),
        }
        said = {"came_off": data["came_off"] or None, "inserts_back": self.back()}
        return facts | {name: value for name, value in said.items() if value is not None}
