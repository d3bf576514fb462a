"""What the pages of the trim bench draw."""

from django import template
from django.utils.safestring import SafeString, mark_safe

from trimfixtures.drawing import marks

register = template.Library()


@register.simple_tag
def outcome_mark(word: str) -> SafeString:
    """How a cut went, as a section."""
    return mark_safe(marks.outcome_mark(word))  # noqa: S308  (drawn from constants)
