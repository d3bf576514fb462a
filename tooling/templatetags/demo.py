"""What only a demo shows: the strip that leads to what to try."""

from typing import Any

from django import template

from tooling.selectors.demo import strip_wanted

register = template.Library()


@register.inclusion_tag("tooling/_demo_strip.html", takes_context=True)
def demo_strip(context: template.Context) -> dict[str, Any]:
    """This is a demo; until the person puts it away."""
    return {"strip": strip_wanted(context["user"], context["shop"])}
