"""What another app shows on the page of a tool."""

from django import template
from django.utils.safestring import SafeString

from tooling.selectors.panels import Panel

register = template.Library()


@register.simple_tag(takes_context=True)
def panel(context: template.Context, one: Panel) -> SafeString:
    """The fragment of a panel: what it shows stands beside what the page has."""
    with context.push(**one.context):
        return context.template.engine.get_template(one.template).render(context)  # type: ignore[union-attr]
