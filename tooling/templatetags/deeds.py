"""Pieces of the pages of deeds."""

from django import template
from django.utils.translation import gettext as _

from shared.units import METRIC
from tooling.models import Entry, Tool
from tooling.selectors.just_written import LATE
from tooling.words import lines
from tooling.words.terms import CAME_OFF, term
from tooling.words.when import clock, when

register = template.Library()


@register.simple_tag(takes_context=True)
def how_to_lift(context: template.Context, tool: Tool) -> str:
    """How heavy it is and how the shop lifts it, in the reader's units."""
    return lines.how_to_lift(tool, getattr(context.get("user"), "units", METRIC))


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
