"""People: a new one, another role, a PIN, and what somebody with a link fills in."""

from typing import Any

from django import forms
from django.contrib.auth.forms import SetPasswordMixin
from django.utils.translation import gettext_lazy as _

from shared.errors import Refused
from tooling.forms.told import Told
from tooling.models import Person, Role
from tooling.models.people import LONGEST_NAME
from tooling.services.pins import LONGEST, check_good
from tooling.words.people import ROLES

_OF_PERSONS = ("hand", "lead", "reader", "")


class NewPersonForm(Told):
    """A name, and what they may do."""

    name = forms.CharField(
        label=_("Name, as it stands beside what they do"),
        max_length=LONGEST_NAME,
        widget=forms.TextInput(attrs={"autocomplete": "off", "spellcheck": "false"}),
    )
    role = forms.ChoiceField(
        label=_("Role"),
        required=False,
        widget=forms.RadioSelect,
        choices=[(role, ROLES[role]) for role in ("hand", "lead", "reader", "station", "")],
        initial=Role.HAND,
    )


class RoleForm(forms.Form):
    """Another role of a person."""

    role = forms.ChoiceField(
        label=_("Role"),
        required=False,
        widget=forms.RadioSelect,
        choices=[(role, ROLES[role]) for role in _OF_PERSONS],
    )


class PinForm(forms.Form):
    """A PIN, typed twice, since nobody sees it."""

    pin = forms.CharField(
        label=_("PIN, 4 to 8 digits"),
        max_length=LONGEST,
        widget=forms.PasswordInput(attrs={"inputmode": "numeric", "autocomplete": "off"}),
        error_messages={"required": _("Write a PIN of 4 to 8 digits.")},
    )
    again = forms.CharField(
        label=_("The same again"),
        max_length=LONGEST,
        widget=forms.PasswordInput(attrs={"inputmode": "numeric", "autocomplete": "off"}),
        error_messages={"required": _("Write it once more.")},
    )

    def clean(self) -> dict[str, Any]:
        """Refuses two that differ, and those that everybody tries first."""
        data = super().clean() or {}
        try:
            if "pin" in data:
                check_good(data["pin"])
        except Refused as refused:
            self.add_error("pin", refused.message)
        if not self.errors and data["pin"] != data["again"]:
            self.add_error("again", _("The two are not the same."))
        return data


class JoinForm(SetPasswordMixin, forms.Form):
    """The password that somebody with a link chooses."""

    password1, password2 = SetPasswordMixin.create_password_fields(label1=_("Password"), label2=_("Password again"))

    def __init__(self, person: Person, *args: Any, **more: Any) -> None:
        super().__init__(*args, **more)
        self.person = person
        self.fields["password1"].help_text = _("At least 8 characters, and none of the usual ones.")
        self.fields["password2"].help_text = ""

    def clean(self) -> dict[str, Any] | None:
        """Refuses two that differ, and one that is guessed at once."""
        self.validate_passwords("password1", "password2")
        self.validate_password_for_user(self.person, "password1")
        return super().clean()
