"""The first form of an empty shop."""

from django import forms
from django.contrib.auth.forms import SetPasswordMixin
from django.utils.translation import gettext_lazy as _

from tooling.models import Person, Tool
from tooling.models.shop import check_time_zone


class FirstLeadForm(SetPasswordMixin, forms.Form):
    """The shop's name, and who leads it."""

    shop_name = forms.CharField(label=_("Name of the shop"), max_length=200)
    time_zone = forms.CharField(
        label=_("Time zone of the shop"),
        max_length=64,
        validators=[check_time_zone],
        help_text=_("As in Europe/Lisbon or America/Halifax. Days begin and end by it."),
        widget=forms.TextInput(
            attrs={"list": "zones", "autocomplete": "off", "spellcheck": "false", "data-own-zone": "UTC"}
        ),
    )
    name = forms.CharField(
        label=_("Your name, as it will stand beside what you do"),
        max_length=80,
        widget=forms.TextInput(attrs={"autocomplete": "username"}),
    )
    password1, password2 = SetPasswordMixin.create_password_fields(label1=_("Password"), label2=_("Password again"))

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        if Tool.objects.exists():
            del self.fields["time_zone"]
        self.fields["password1"].help_text = _("At least 8 characters, and none of the usual ones.")
        self.fields["password2"].help_text = ""

    def clean(self):
        self.validate_passwords("password1", "password2")
        self.validate_password_for_user(Person(name=self.cleaned_data.get("name", "")), "password1")
        return super().clean()
