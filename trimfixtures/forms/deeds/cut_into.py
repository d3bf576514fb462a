"""One tap on what a cut that went wrong was cut into."""

from django import forms
from django.utils.translation import gettext_lazy as _

from tooling.forms.deeds.base import DeedForm
from trimfixtures.words.outcomes import INTO


class CutIntoForm(DeedForm):
    """It is said of a cut that is written: only whose word it is is asked besides."""

    PRESSED = "into"

    into = forms.ChoiceField(
        choices=[(word, one.word) for word, one in INTO.items()],
        error_messages={"required": _("Tap what was cut into."), "invalid_choice": _("Tap one of the four.")},
    )
