"""Tool sets: what comes in, what is changed of a line, with which one an empty set begins, into which a tool goes."""

from typing import Any

from django import forms
from django.core.exceptions import ValidationError
from django.utils.translation import gettext as _now
from django.utils.translation import gettext_lazy as _

from shared.errors import Refused
from tooling.models import Part, PartRevision, SetLine, SetRole, Tool
from tooling.selectors import parts, scans
from tooling.selectors.set_lines import Lines, meant
from tooling.selectors.written import nearest, numbers
from tooling.words.set_changes import as_kept

_CODE = {"autocapitalize": "characters", "autocomplete": "off", "spellcheck": "false"}
# Numbers of parts that a box proposes while somebody types.
_PROPOSED = 200


class AddToolForm(forms.Form):
    """A tool by its code, an older code, its tag, or what it is called; `near` are those that may be meant."""

    tool = forms.CharField(
        label=_("Scan or type a tool"),
        max_length=300,
        error_messages={"required": _("Which tool? Type its code, or words of its name.")},
        help_text=_("Its code or an older one, or words of its name. What it is for in the set, its kind says."),
        widget=forms.TextInput(attrs={**_CODE, "data-scan": True}),
    )
    near: list[Tool] = []

    def clean_tool(self) -> Tool:
        """The tool; where there is none, those that may be meant."""
        text = self.cleaned_data["tool"]
        found = scans.tool(text)
        if found is None:
            code = scans.code_on(text)
            self.near = meant(code)
            said = _now("There is no tool “%(code)s”. Tap the one that is meant, or type it anew.")
            none = _now(
                "There is no tool “%(code)s”, and none that looks like it. Type its code, or words of its name."
            )
            raise ValidationError((said if self.near else none) % {"code": code})
        return found


class AddHardwareForm(forms.Form):
    """Hardware in words."""

    item = forms.CharField(
        label=_("Hardware, in words"),
        max_length=200,
        error_messages={"required": _("Say in words what hardware it is.")},
        help_text=_("As in: 12 flange clamps. It is not counted by the program."),
    )


class LineForm(forms.Form):
    """A line of a set: its number, whether it is needed, what it stands in for, the words of hardware."""

    item = forms.CharField(label=_("Hardware, in words"), max_length=200)
    required = forms.TypedChoiceField(
        label=_("Is it needed?"),
        choices=[("yes", _("required")), ("no", _("optional"))],
        coerce=lambda said: said == "yes",
        widget=forms.RadioSelect,
    )
    instead = forms.ChoiceField(
        label=_("Stands in for"),
        required=False,
        error_messages={"invalid_choice": _("Choose another line of this kind that is still in the set, or nothing.")},
        help_text=_("One of the two is enough; the one that is more usable is offered first."),
    )
    order = forms.IntegerField(
        label=_("Number in the order"),
        required=False,
        min_value=1,
        max_value=9999,
        help_text=_("Mold inserts go in by it. Empty: behind those that have one."),
        widget=forms.TextInput(attrs={"inputmode": "numeric"}),
    )
    seen = forms.CharField(required=False, widget=forms.HiddenInput)

    def __init__(self, line: SetLine, lines: Lines, data: Any = None) -> None:
        """`lines`: the set that it stands in."""
        self.line = line
        self.others = {str(one.pk): one for one in lines.of_role(line)}
        word = line.alternative.casefold()
        together = [key for key, one in self.others.items() if word and one.alternative.casefold() == word]
        stands = {"item": line.item, "order": line.order, "instead": together[0] if together else ""}
        stands |= {"required": "yes" if line.required else "no", "seen": as_kept(line)}
        super().__init__(data, initial=stands)
        if line.role != SetRole.HARDWARE:
            del self.fields["item"]
        choices = [(key, one.what) for key, one in self.others.items()]
        self.fields["instead"].choices = [("", _now("nothing, it is used by itself")), *choices]

    def given(self) -> dict[str, Any]:
        """What the service is told: columns, what it stands in for now if that is another, and how it was read."""
        data = self.cleaned_data
        columns = {name: data[name] for name in ("order", "required", "item") if name in data}
        other = None
        if data["instead"] != self.initial["instead"]:
            other = self.others.get(data["instead"])
            columns |= {} if other is not None else {"alternative": ""}
        return {"columns": columns, "stands_in_for": other, "read": data["seen"]}

    def told(self, refused: Refused | ValidationError) -> None:
        """What the service refused, at its field or at the top."""
        if isinstance(refused, Refused):
            self.add_error(refused.field if refused.field in self.fields else None, refused.message)
            return
        for name, messages in refused.message_dict.items():
            self.add_error(name if name in self.fields else None, messages)


class PartNumberField(forms.CharField):
    """A part by its number; its clean value is the part."""

    def __init__(self, **more: Any) -> None:
        super().__init__(max_length=80, widget=forms.TextInput(attrs={**_CODE, "list": "parts-there"}), **more)
        self.error_messages["required"] = _("Which part? Type its number.")

    def clean(self, value: Any) -> Part:  # type: ignore[override]
        """The part of that number, in any case; else those like it are named."""
        text = super().clean(value)
        found = parts.found(text)
        if found is None:
            near = [one for one in nearest(text, numbers()) if parts.found(one) is not None]
            said = (
                _now("There is no part %(number)s. Is it %(near)s?") if near else _now("There is no part %(number)s.")
            )
            raise ValidationError(said % {"number": text, "near": ", ".join(near)})
        return found


class _OfAPart(forms.Form):
    def proposed(self) -> list[str]:
        """Numbers of parts that a browser may propose; none where they are too many to look through."""
        found = list(Part.objects.order_by("number").values_list("number", flat=True)[: _PROPOSED + 1])
        return found if len(found) <= _PROPOSED else []


class StartForm(_OfAPart):
    """Which set an empty one begins with."""

    part = PartNumberField(label=_("Another part"))
    of_revision = forms.CharField(
        label=_("Its revision"), required=False, max_length=40, help_text=_("Empty: the newest."),
        widget=forms.TextInput(attrs=_CODE),
    )  # fmt: skip

    def revision(self) -> PartRevision:
        """The revision that is meant. Refused where the part has none of that name."""
        part, name = self.cleaned_data["part"], self.cleaned_data["of_revision"]
        found = parts.named_revision(part, name or None)
        if found is None:
            text = _now("%(part)s has no revision %(name)s.") % {"part": part, "name": name}
            raise Refused(text, "of_revision" if name else "part")
        return found


class IntoSetForm(_OfAPart):
    """The part into whose set a tool is put."""

    part = PartNumberField(label=_("Part number"))
