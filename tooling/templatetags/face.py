"""How things look everywhere: the drawings, times, numbers, the shop's name and the pages that there are."""

from datetime import datetime, tzinfo
from decimal import Decimal
from functools import lru_cache
from html import escape
from typing import Any

from django import template
from django.forms import BoundField
from django.urls import get_script_prefix, reverse
from django.utils.html import format_html, format_html_join
from django.utils.safestring import SafeString, mark_safe
from django.utils.translation import get_language
from django.utils.translation import gettext_lazy as _

from shared.access import is_station
from shared.clock import now
from shared.cookies import FOLDED_CAUTIONS
from shared.units import METRIC
from tooling.calc.tape import Tape
from tooling.drawing import marks, sections, shelves
from tooling.drawing.tally import tally_svg
from tooling.models import Shop, Tool
from tooling.selectors import menu
from tooling.words import cautions, family, lines, measures, places, when
from tooling.words.status import Sentence
from tooling.words.terms import CAME_OFF, CAME_OFF_MEANS, KINDS, term

register = template.Library()

# As many drawings of each sort are kept to be shown again: some megabytes.
KEPT = 4000
# The home of a shared tablet, before all others
WALL = (("wall", _("Wall")),)

# What stops a use, by the state: held is taped off, a part is in it, or something has to go on it.
MARKS = {
    "held": "held",
    "part_in_mold": "part",
    "needs_strip": "coat",
    "not_prepared": "coat",
    "preparing": "coat",
    "needs_touch_up": "coat",
}


def _drawn(svg: str) -> SafeString:
    """Our own drawings: codes and words in them are escaped where they are drawn."""
    return mark_safe(svg)  # noqa: S308


# ---- drawings ----


# A drawing is the same as long as what it shows is: made once for each language that its words are in.
@lru_cache(maxsize=KEPT)
def _tape(language: str | None, tape: Tape, code: str) -> SafeString:
    return _drawn(tally_svg(tape.strokes, tape.left, code, tape.coats))


@lru_cache(maxsize=KEPT)
def _section(language: str | None, kind: str, part_in: bool, held: bool) -> SafeString:
    return _drawn(sections.kind_picture(kind, part_in=part_in, held=held))


@lru_cache(maxsize=KEPT)
def _small_section(language: str | None, kind: str) -> SafeString:
    return _drawn(sections.kind_mark(kind))


@register.simple_tag
def tally(tape: Tape | None, code: str, kind: str = "") -> SafeString | str:
    """The strip of tape of one surface; where there is none, the section of the kind stands there."""
    if tape is not None:
        return _tape(get_language(), tape, code)
    return format_html('<span class="no-tape">{}</span>', kind_mark(kind)) if kind else ""


@register.simple_tag
def kind_mark(kind: str) -> SafeString:
    """The small section of a kind."""
    return _small_section(get_language(), kind)


@register.simple_tag
def kind_picture(kind: str, part_in: bool = False, held: bool = False) -> SafeString:
    """The section of a kind at the size of a picture."""
    return _section(get_language(), kind, part_in, held)


@register.simple_tag
def shelf_picture() -> SafeString:
    """A rack with a mold on it."""
    return _drawn(shelves.shelf_picture())


@register.simple_tag
def came_off_mark(word: str) -> SafeString:
    """How a part came off, as a section."""
    return _drawn(marks.came_off_mark(word))


@register.simple_tag
def history_tick(kind: str, code: str, number: int, came_off: str = "", void: bool = False) -> SafeString:
    """What an entry leaves on the tape of the history."""
    return _drawn(marks.history_tick(kind, code, number, came_off=came_off, void=void))


@register.simple_tag
def state_mark(status: str) -> SafeString | str:
    """The mark of a state in which the tool cannot be used; usable has none."""
    return _drawn(marks.state_mark(MARKS[status])) if status in MARKS else ""


@register.simple_tag
def state(status: str, said: Sentence, marks: bool = False) -> SafeString:
    """How a state looks: its mark where it stops a use, what it says first, and the rest.

    Without `marks` all of them but held are left to the tape beside it.
    """
    mark = state_mark(status) if marks or status == "held" else ""
    first = f"{said.mark}</b> {escape(said.tail)}." if said.tail else ".</b>"
    more = "".join(f" {escape(words)}" for words in said.more)
    return mark_safe(f"{mark}<b>{escape(said.head)}{first}{more}")  # noqa: S308  (escaped word by word)


@lru_cache(maxsize=KEPT)
def _address(prefix: str, code: str) -> str:
    return reverse("tool", args=[code])


@register.simple_tag
def tool_at(code: str) -> str:
    """The address of a tool's page, for lists: each is put together once."""
    return _address(get_script_prefix(), code)


@register.simple_tag(takes_context=True)
def where(context: template.Context, summary: Any) -> SafeString:
    """Where a tool is, in a list and under a heading, and its home where that is elsewhere."""
    lies, home = lies_at(context, summary), places.belongs(summary)
    shown = _unbroken(lies) if summary.in_mold_of is not None else lies
    return format_html_join("", " · {}", ((words,) for words in (shown, home) if words))


@register.simple_tag(takes_context=True)
def lies_at(context: template.Context, summary: Any) -> str:
    """Where a tool is; of a loan until when, or since when it is not back."""
    if not summary.lent:
        return places.lies(summary)
    at, zone = _now_and_zone(context)
    return places.lies(summary, at.astimezone(zone).date())


def _unbroken(words: str) -> SafeString:
    return format_html('<span class="nb">{}</span>', words)


@register.simple_tag
def sign() -> SafeString:
    """The program's own sign."""
    return _drawn(marks.sign())


# ---- times and numbers ----


def _now_and_zone(context: template.Context) -> tuple[datetime, tzinfo]:
    at = context.get("now") or now()
    return at, context.get("zone") or _shop(context).zone


@register.inclusion_tag("_when.html", name="when", takes_context=True)
def time_in_words(context: template.Context, at: datetime, how: str = "when") -> dict[str, object]:
    """A time in the shop's zone. `how`: when (today 16:10), clock (16:10), moment (Mon 11 May 15:05)."""
    shown, zone = _now_and_zone(context)
    words = {
        "when": lambda: when.when(at, shown, zone),
        "clock": lambda: when.clock_or_when(at, shown, zone),
        "moment": lambda: when.moment(at, shown, zone),
    }[how]()
    return {"at": at.astimezone(zone), "words": words}


@register.simple_tag(takes_context=True)
def day_of(context: template.Context, at: datetime) -> str:
    """The day of a time, with its year where that is another: 3 March 2024."""
    shown, zone = _now_and_zone(context)
    return when.long_day(at, shown, zone)


@register.simple_tag(takes_context=True)
def morning(context: template.Context) -> str:
    """The day and the time of this page."""
    return when.morning(*_now_and_zone(context))


def system_of(context: template.Context) -> str:
    """The units of the person who reads the page."""
    return getattr(context.get("user"), "units", METRIC)


@register.inclusion_tag("_number.html", takes_context=True)
def number(context: template.Context, value: Decimal | int | float, unit: str = "") -> dict[str, object]:
    """A number that is stored in a unit, in the reader's, without idle zeros."""
    return {"number": measures.measure(Decimal(str(value)), unit, system_of(context))}


@register.inclusion_tag("_number.html", takes_context=True)
def measure(context: template.Context, row: Any, column: str) -> dict[str, object]:
    """A measure of a tool, place or part in the reader's units, as it was typed where those are the same."""
    value, si = getattr(row, column), measures.si_of(column)
    return {"number": measures.measure(value, si, system_of(context), row.as_typed.get(column))}


# ---- words ----


@register.filter
def kind_word(kind: str) -> str:
    """Plug, mold, mold insert or trim mask."""
    return term(KINDS, kind)


@register.simple_tag
def name_and_kind(tool: Tool) -> str:
    """Its name, and what kind of tool it is where the name does not say that already."""
    return lines.name_and_kind(tool)


@register.filter
def came_off_word(word: str) -> str:
    """Free, light, tight, stuck or lost."""
    return term(CAME_OFF, word)


@register.filter
def came_off_means(word: str) -> str:
    """What each of the five stands for."""
    return term(CAME_OFF_MEANS, word)


@register.filter
def coat_stuff(of_family: str) -> str:
    """Wax, release liquid or release agent."""
    return family.coat_stuff(of_family)


@register.inclusion_tag("_cautions.html")
def caution(about: str, of_family: str = "") -> dict[str, object]:
    """The caution that belongs to a deed."""
    return {"caution": cautions.caution(about, of_family)}


@register.inclusion_tag("_cautions.html")
def caution_said(one: cautions.Caution, last: bool = True) -> dict[str, object]:
    """One that the page was given; what all of them say besides stands behind the last."""
    return {"caution": cautions.alone(one) if last else one}


@register.inclusion_tag("_caution_short.html", takes_context=True)
def caution_in_short(context: template.Context, about: str, of_family: str = "") -> dict[str, object]:
    """The same in a line or two, above what it is about; folded where this person folded it in this shift.

    At a station it cannot be folded: one hand would fold it for all.
    """
    return _in_short(context, cautions.among_others(about, of_family))


@register.inclusion_tag("_caution_short.html", takes_context=True)
def caution_said_in_short(context: template.Context, one: cautions.Caution) -> dict[str, object]:
    """The same of one that the page was given."""
    return _in_short(context, one)


def _in_short(context: template.Context, one: cautions.Caution) -> dict[str, object]:
    request = context.get("request")
    user = getattr(request, "user", None)
    person = str(user.pk) if user is not None and user.is_authenticated and not is_station(user) else ""
    whose, *kept = request.COOKIES.get(FOLDED_CAUTIONS, "").split(".") if request is not None else ("",)
    return {"caution": one, "person": person, "folded": whose == person and one.about in kept}


@register.simple_tag
def caution_everywhere() -> str:
    """What every caution says besides."""
    return str(cautions.EVERYWHERE)


@register.simple_tag
def wrong_in_words(field: BoundField, error: str) -> str:
    """What is wrong with a field, with its name where the sentence does not say what it is about."""
    asks = error.endswith("?") or str(field.label).endswith("?")
    return error if asks else str(_("%(field)s: %(error)s") % {"field": field.label, "error": error})


# ---- the frame of every page ----


def _shop(context: template.Context) -> Shop:
    return context.get("shop") or Shop.current()


@register.simple_tag(takes_context=True)
def the_shop(context: template.Context) -> Shop:
    """The shop that a view gave along; pages without one (errors, the door) ask for it."""
    return _shop(context)


@register.simple_tag(takes_context=True)
def pages(context: template.Context) -> list[dict[str, object]]:
    """The pages in the header, and which of them this one is or belongs to."""
    request = context.get("request")
    here = request.path if request else ""
    shown = []
    station = bool(request) and is_station(request.user)
    for name, word in (*(WALL if station else ()), *menu.pages()):
        address = reverse(name)
        below = address != "/" and here.startswith(address)
        if station and here.startswith(reverse("tools")) and here != reverse("tools"):
            below = name == "wall"  # a deed at a station begins and ends at its rows
        shown.append({"address": address, "word": word, "now": "page" if here == address else "true" if below else ""})
    return shown
