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
from tooling.models import Tin
from tooling.selectors.coats import Coating, On, what_goes_on
from tooling.selectors.coats import clock_since as since_when
from tooling.selectors.floor import Floor
from tooling.selectors.together import Together, Waiting
from tooling.words import coats, tins, together
from tooling.words.counting import capital
from tooling.words.when import clock_or_when, lasting

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
def clock_words(context: template.Context, one: Coating) -> str:
    """What to do about what went on last."""
    zone, plan = context["zone"], one.plan
    assert plan is not None
    if one.clock == "film":
        return coats.film_clock(plan.dry_at, one.on.at, zone)
    assert plan.last_at is not None
    assert one.on.recipe is not None
    wipe = float(one.on.recipe.wipe_minutes)
    return coats.last_coat(one.on.family, one.number, wipe, plan.last_at, one.on.at, zone)


@register.simple_tag
def clock_since(one: Coating) -> datetime | None:
    """The moment that the clock counts from."""
    return since_when(one)


@register.simple_tag
def step_button(what: str) -> str:
    """Film on."""
    return str(coats.FURTHER[what])


@register.simple_tag
def out_of_order(plan: Ahead | None, what: str) -> str:
    """What follows from putting it on now."""
    return coats.out_of_order(plan, what)


@register.simple_tag
def stuffs(on: Floor | Together) -> list[str]:
    """What a recipe has tins of, in the order in which it goes on."""
    return what_goes_on(on.recipe)


@register.simple_tag(takes_context=True)
def tin_past(context: template.Context, tin: Tin) -> str:
    """That it is past its date."""
    return tins.past(tin.expires_on, context["now"].astimezone(context["zone"]).date())


@register.simple_tag(takes_context=True)
def tin_where(context: template.Context) -> str:
    """open at this station"""
    return tins.where(context["user"].is_station)


@register.simple_tag
def tin_of(what: str) -> str:
    """What is in the tin."""
    return str(tins.IN_IT[what])


@register.simple_tag
def tin_keys(found: dict[str, Tin]) -> str:
    """The keys of the tins that a page shows."""
    return ",".join(str(tin.pk) for tin in found.values())


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
def coat_line(context: template.Context, one: On) -> SafeString:
    """What is on: when a coat was wiped, who put it on, and from which tin."""
    entry, on = one.entry, _("on")
    if one.wipe is not None:
        on = _("on, wiped %(clock)s") % {"clock": clock_or_when(one.wipe.at, context["now"], context["zone"])}
    said = [entry.by.name] if entry.by is not None else []
    said += [_("lot %(lot)s") % {"lot": entry.payload["lot"]}] if entry.payload.get("lot") else []
    rest = f" {', '.join(said)}." if said else ""
    return format_html("<b>{}</b> {}.{}", capital(coats.went_on(entry.kind, entry.count or 1)), on, rest)


@register.simple_tag
def on_all(step: str, count: int) -> str:
    """One more coat on all six."""
    return together.on_all(step, count)


@register.simple_tag
def waits_for(one: Waiting) -> str:
    """Coat 2 of 3."""
    return together.waits_for(one.step, one.on, one.wanted)


@register.simple_tag
def so_many_tools(count: int) -> str:
    """Six tools."""
    return together.number_of(count)


@register.simple_tag
def stands(plan: Ahead | None) -> str:
    """2 of 3 coats on."""
    return together.stands(plan)


@register.simple_tag(takes_context=True)
def beforehand(context: template.Context, plan: Ahead | None, what: str) -> list[str]:
    """What follows from putting it on now."""
    return together.beforehand(plan, what, context["now"], context["zone"])


@register.simple_tag(takes_context=True)
def earliest_of(context: template.Context, batch: Together) -> coats.Earliest:
    """The earliest lay-up of the last of them."""
    found = [coats.earliest(one.row, context["now"]) for one in batch.members]
    times = [one.at for one in found if one.at is not None]
    if not found or len(times) < len(found):
        return coats.Earliest(None, _("not for all of them: see each"))
    last = max(times)
    return coats.Earliest(last, _("all of them, if started now"), now=last <= context["now"])


@register.simple_tag(takes_context=True)
def batch_words(context: template.Context, batch: Together) -> str:
    """What to do about the coat that went on them last."""
    assert batch.last_at is not None
    recipe, zone = batch.recipe, context["zone"]
    family, wait = (recipe.family, float(recipe.wipe_minutes)) if recipe is not None else ("other", 0.0)
    number = max((plan.on or plan.complete for plan in batch.plans), default=0)
    return coats.last_coat(family, number, wait, batch.last_at, context["now"], zone)


@register.simple_tag
def refused_for(refused: dict[str, str], code: str) -> str:
    """Why nothing could be written of this one."""
    return refused.get(code, "") if refused else ""


@register.simple_tag
def layers(on: int, wanted: int) -> SafeString:
    """The coats as a section."""
    return mark_safe(layers_svg(on, wanted))  # noqa: S308  (our own drawing)
