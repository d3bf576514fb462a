"""The way to the count of a place."""

from typing import Any
from uuid import uuid4

from django import template

from tooling.models import Place
from tooling.selectors.place_counts import open_at

register = template.Library()


@register.inclusion_tag("tooling/_count_this.html", takes_context=True)
def count_this(context: template.Context, place: Place) -> dict[str, Any]:
    """One tap begins to count a place, or goes on where somebody has begun."""
    said = {name: context.get(name) for name in ("csrf_token", "zone", "now")}
    return {"place": place, "count": open_at(place), "token": uuid4(), **said}
