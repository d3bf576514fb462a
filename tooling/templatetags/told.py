"""What was told to the lead, on the board of a lead."""

from typing import Any

from django import template

from shared.access import can_lead
from tooling.selectors.lead_notes import MOST, unseen

register = template.Library()


@register.inclusion_tag("tooling/_told_to_lead.html", takes_context=True)
def told_to_lead(context: template.Context) -> dict[str, Any]:
    """Each note that no lead has seen yet, where a lead looks; nothing for anybody else."""
    told = unseen() if can_lead(context["user"]) else []
    kept = {name: context.get(name) for name in ("now", "zone", "user", "csrf_token")}
    return {**kept, "told": told[:MOST], "more": len(told) > MOST}
