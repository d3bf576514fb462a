"""Pieces of the page of coats."""

from datetime import datetime

from django import template
from django.utils.html import format_html, format_html_join
from django.utils.safestring import SafeString, mark_safe
from django.utils.translation import gettext as _

from tooling.calc.ahead import Ahead
from tooling.calc.readiness import film_missing
from tooling.calc.state import decode
from tooling.drawing.layers import layers_svg
from tooling.models import Entry
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


@register.inclusion_tag("tooling/deeds/_earliest.html", takes_context=True)
def earliest_lay_up(context: template.Context, on: Floor) -> dict[str, object]:
    """When it can be laid up if everything begins now, and what that waits for."""
    return {"earliest": coats.earliest(on.row, on.at), "now": on.at, "zone": context["zone"]}


@register.simple_tag
def first_steps(on: Floor) -> str:
    """Strip it first, then three coats; the strip alone where a part or a hold comes before all."""
    if on.row is None or on.recipe is None or on.row.own.status != "needs_strip":
        return _("Strip it first")
    film = film_missing(on.row.own, decode(on.summary.state), on.recipe.as_calc())
    return capital(coats.steps(on.row.own, film))


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
