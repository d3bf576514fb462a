"""How backups and seals look."""

from typing import Any

from django import template

from shared.access import can_lead
from tooling.words import keeping as words

register = template.Library()


@register.inclusion_tag("tooling/keep/_wanted.html", takes_context=True)
def backup_wanted(context: template.Context) -> dict[str, Any]:
    """A line where the last backup is older than the shop wants; a lead is led to the next."""
    return {"says": words.backup_wanted(context["shop"], context["now"]), "may_lead": can_lead(context["user"])}


@register.filter
def in_groups(digest: str) -> str:
    """A digest in groups."""
    return words.in_groups(digest)
