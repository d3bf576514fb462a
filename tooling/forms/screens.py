"""What stood in the fields of a form when it was on the screen: carried along, compared, said."""

import json
from collections.abc import Mapping
from datetime import date
from typing import Any

from django import forms
from django.core.exceptions import ValidationError
from django.http import QueryDict
from django.utils.dateformat import format as in_format
from django.utils.translation import gettext as _

from tooling.forms.measures import MeasureField

# A form that does not say what stood there
NOT_SEEN = object()
_PLAIN = (str, int, bool, type(None))


def packed(stands: Mapping[str, Any]) -> str:
    """The values of all fields as one text."""
    return json.dumps(stands, default=date.isoformat, ensure_ascii=False, separators=(",", ":"))


def unpacked(text: str) -> dict[str, Any]:
    """What `packed` made; a text that it did not make says nothing."""
    try:
        said = json.loads(text)
    except (ValueError, RecursionError):
        return {}
    return {name: value for name, value in said.items() if isinstance(value, _PLAIN)} if isinstance(said, dict) else {}


def differs(field: forms.Field, was: Any, value: Any) -> bool:
    """Whether a field holds another value than it did; browsers end lines in their own way."""
    if was is NOT_SEEN:
        return True
    if isinstance(field, forms.DateField):
        try:
            was = field.to_python(was)
        except ValidationError:
            return True
    return field.has_changed(_lines(was), _lines(value))


def _lines(value: Any) -> Any:
    return value.replace("\r\n", "\n") if isinstance(value, str) else value


def in_words(field: forms.Field, value: Any) -> str:
    """A value as somebody reads it."""
    if value in (None, ""):
        return _("nothing")
    if isinstance(field, forms.BooleanField):
        return _("yes") if value else _("no")
    if isinstance(value, date):
        return in_format(value, "j F Y")
    if isinstance(field, MeasureField):
        return f"{value} {field.unit.symbol}".rstrip()
    if isinstance(field, forms.ChoiceField):
        return next((str(label) for key, label in field.choices if str(key) == str(value)), str(value))
    return str(value)


def put(data: QueryDict, name: str, value: Any) -> None:
    """Sets a field of what was sent; a box that is not ticked is not sent."""
    if value is False:
        data.pop(name, None)
    else:
        data[name] = "" if value is None else str(value)
