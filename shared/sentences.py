"""What every form says of a field, in the words of this program: the framework's own speak of choices and values."""

from typing import Any

from django import forms
from django.core import validators
from django.db import models
from django.utils.translation import gettext_lazy as _
from django.utils.translation import ngettext_lazy

_EMPTY = _("Fill this in.")
_NOT_OFFERED = _("Choose one of those offered.")
_FIELDS: dict[Any, dict[str, Any]] = {
    forms.Field: {"required": _EMPTY},
    forms.ChoiceField: {"invalid_choice": _NOT_OFFERED},
    forms.MultipleChoiceField: {"invalid_choice": _NOT_OFFERED, "invalid_list": _NOT_OFFERED},
    forms.ModelChoiceField: {"invalid_choice": _NOT_OFFERED},
    forms.ModelMultipleChoiceField: {
        "invalid_choice": _NOT_OFFERED, "invalid_list": _NOT_OFFERED, "invalid_pk_value": _NOT_OFFERED,
    },
    forms.IntegerField: {"invalid": _("Write a whole number.")},
    forms.DecimalField: {"invalid": _("Write a number.")},
    forms.DateField: {"invalid": _("Write a day that is in the calendar.")},
    forms.TimeField: {"invalid": _("Write a time of day, such as 16:10.")},
    forms.DateTimeField: {"invalid": _("Write a day and a time of day.")},
    forms.FileField: {
        "invalid": _("Choose a file."), "missing": _("Choose a file."), "empty": _("The file is empty."),
        "max_length": _("The name of the file is too long. Give it a shorter one."),
    },
    forms.ImageField: {"invalid_image": _("This file is no picture that can be read.")},
    forms.UUIDField: {"invalid": _("This page is not whole. Open it once more.")},
    models.Field: {"blank": _EMPTY, "null": _EMPTY, "invalid_choice": _NOT_OFFERED},
    models.ForeignKey: {"invalid": _NOT_OFFERED},
}  # fmt: skip
_VALIDATORS: dict[Any, Any] = {
    validators.ProhibitNullCharactersValidator: _("A sign in it cannot be kept. Type it anew."),
    validators.MinValueValidator: _("At least %(limit_value)s, please."),
    validators.MaxValueValidator: _("At most %(limit_value)s, please."),
    validators.MaxLengthValidator: ngettext_lazy(
        "At most %(limit_value)d character; these are %(show_value)d.",
        "At most %(limit_value)d characters; these are %(show_value)d.",
        "limit_value",
    ),
}


def say() -> None:
    """Puts the sentences where every field that is made from now on takes its own from."""
    for kind, sentences in _FIELDS.items():
        kind.default_error_messages = {**kind.default_error_messages, **sentences}
    for validator, sentence in _VALIDATORS.items():
        validator.message = sentence
