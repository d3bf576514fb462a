"""Pieces of the pages of deeds."""

from collections.abc import Iterable

from django import template
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy as _later

from shared.units import METRIC
from tooling.calc.state import decode
from tooling.models import Entry, Tool
from tooling.selectors.floor import Floor
from tooling.selectors.just_written import LATE
from tooling.selectors.matched import Half
from tooling.words import coats, effects, lines
from tooling.words import family as of_family
from tooling.words.terms import CAME_OFF, CLEANED_WITH, term
from tooling.words.when import clock, when

register = template.Library()

# What it was cleaned with, told apart by what that does to the surface: the kind of entry, the words, why.
_CLEANING = (
    ("clean", ("water", "soap"), _later("Written as cleaned.")),
    ("strip", ("solvent", "stripper"), _later("Written as stripped: it takes the coat off.")),
    ("polish", ("compound",), _later("Written as polished: it cuts the coat away.")),
)


@register.simple_tag(takes_context=True)
def how_to_lift(context: template.Context, tool: Tool) -> str:
    """How heavy it is and how the shop lifts it, in the reader's units."""
    return lines.how_to_lift(tool, getattr(context.get("user"), "units", METRIC))


@register.simple_tag
def to_check(on: Floor, halves: Iterable[Half]) -> str:
    """What to look at before the lay-up, on the tool, its inserts and the other halves: no record knows it."""
    known = [row for one in (on, *(half.on for half in halves)) for row in (one.row, *one.inserts) if row is not None]
    return " ".join(coats.to_check(decode(row.summary.state) for row in known))


@register.simple_tag(takes_context=True)
def pulled_by(context: template.Context, entry: Entry) -> str:
    """Ines wrote a pull here at 16:04: free."""
    now, zone = context["now"], context["zone"]
    how = term(CAME_OFF, entry.came_off)
    said = {"who": entry.by or _("Somebody"), "clock": clock(entry.recorded_at, zone), "at": when(entry.at, now, zone)}
    if entry.recorded_at - entry.at > LATE:
        text = _("%(who)s wrote a pull here at %(clock)s, for %(at)s") % said
    else:
        text = _("%(who)s wrote a pull here at %(clock)s") % said
    return f"{text}: {how}." if how else f"{text}."


@register.inclusion_tag("tooling/deeds/_does.html", takes_context=True)
def does(context: template.Context, kind: str, titled: bool = True) -> dict[str, object]:
    """What a kind of entry does to the state of the page's tool."""
    return {"lines": effects.effect(kind, _surface(context["on"])), "titled": titled}


@register.simple_tag(takes_context=True)
def cleaning_ways(context: template.Context) -> list[dict[str, object]]:
    """With what it can have been cleaned, each with what it is written as and what that does."""
    on = _surface(context["on"])
    return [
        {
            "words": [(word, term(CLEANED_WITH, word)) for word in words],
            "written": written,
            "does": effects.effect(kind, on),
        }
        for kind, words, written in _CLEANING
    ]


@register.simple_tag
def coat_wanted(on: Floor) -> str:
    """Wax wanted, release wanted or a coat wanted."""
    return of_family.coat_wanted(on.family)


def _surface(on: Floor) -> effects.On:
    recipe = on.recipe.as_calc() if on.recipe is not None else None
    return effects.On(decode(on.summary.state), recipe, on.family)
