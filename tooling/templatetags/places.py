"""Deeds of places that are done with one tap, wherever a tool is named."""

from typing import Any
from uuid import uuid4

from django import template
from django.utils.translation import gettext as _

from tooling.words.places import kind_of

register = template.Library()
register.filter("kind_of", kind_of)


@register.inclusion_tag("tooling/_put_back.html", takes_context=True)
def put_back(context: template.Context, code: str, home: Any, word: str = "", big: bool = False) -> dict[str, object]:
    """A button that puts a tool back to its home; a station is asked whose hands."""
    return {
        "code": code,
        "home": home.code,
        "word": word or _("Put back"),
        "big": big,
        "token": uuid4(),
        "csrf_token": context.get("csrf_token"),
    }
