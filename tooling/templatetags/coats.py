"""Pieces of the page of coats."""

from datetime import datetime

from django import template
from django.utils.html import format_html, format_html_join
from django.utils.safestring import SafeString, mark_safe
from django.utils.translation import gettext as _

from tooling.calc.ahead import Ahead
from tooling.drawing.layers import layers_svg
from tooling.models import Entry, RecipeVersion
from tooling.selectors.floor import Floor
from tooling.words import coats
from tooling.words.counting import capital
from tooling.words.counting import coats as in_coats
from tooling.words.when import lasting

register = template.Library()


@register.simple_tag
def coat_heading(plan: Ahead | None) -> str:
    """Coat 2 of 3."""
    return coats.heading(plan)


@register.simple_tag
def coat_button(plan: Ahead | None) -> str:
    """Coat 3 on."""
    return coats.button(plan)


@register.simple_tag(takes_context=True)
def wipe_words(context: template.Context, on: Floor, plan: Ahead) -> str:
    """What to do about the coat that went on last."""
    assert plan.last_at is not None
    assert on.recipe is not None
    wipe = float(on.recipe.wipe_minutes)
    return coats.last_coat(on.family, plan.on, wipe, plan.last_at, on.at, context["zone"])


@register.simple_tag(takes_context=True)
def since(context: template.Context, at: datetime) -> SafeString:
    """The time that has run since, its numbers as large as a clock's: 1 h 16 min."""
    words = lasting(context["now"] - at).split()
    return format_html_join(" ", "{}", ((word if word.isdigit() else _small(word),) for word in words))


def _small(word: str) -> SafeString:
    return format_html("<small>{}</small>", word)


@register.simple_tag
def lasting_from(now: datetime, then: datetime) -> str:
    """in 44 minutes"""
    return coats.off_in(now, then)


@register.simple_tag(takes_context=True)
def dries_at(context: template.Context, recipe: RecipeVersion, now: datetime) -> str:
    """When a film that goes on now is dry."""
    return coats.dries(float(recipe.film_dry_minutes), now, context["zone"])


@register.simple_tag
def coat_line(entry: Entry) -> SafeString:
    """A coat that is on, who put it on, and from which tin."""
    said = [entry.by.name] if entry.by is not None else []
    said += [_("lot %(lot)s") % {"lot": entry.payload["lot"]}] if entry.payload.get("lot") else []
    rest = f" {', '.join(said)}." if said else ""
    return format_html("<b>{}</b> {}.{}", capital(in_coats(entry.count or 1)), _("on"), rest)


@register.simple_tag
def layers(on: int, wanted: int) -> SafeString:
    """The coats as a section."""
    return mark_safe(layers_svg(on, wanted))  # noqa: S308  (our own drawing)
