"""Why a tool may not be used now, beside the state of its surface: whole sentences, and what mends each."""

from collections.abc import Mapping
from datetime import date, datetime, tzinfo
from decimal import Decimal

from django.utils.functional import Promise
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy, ngettext

from tooling.words.measures import measure
from tooling.words.when import day, when

# What stood against a lay-up that was started or had happened all the same, as the history says it.
AGAINST: dict[str, str | Promise] = {
    "retired": gettext_lazy("retired"),
    "held": gettext_lazy("held"),
    "making": gettext_lazy("in the making"),
    "not_accepted": gettext_lazy("brought back and not accepted"),
    "part_in_mold": gettext_lazy("a part in it"),
    "needs_strip": gettext_lazy("a strip wanted"),
    "not_prepared": gettext_lazy("no coat on"),
    "preparing": gettext_lazy("coats missing"),
    "needs_touch_up": gettext_lazy("a coat wanted"),
    "part_count": gettext_lazy("its pulls for this part done"),
    "curing": gettext_lazy("the coat’s time not up"),
    "needs_film": gettext_lazy("no film on"),
    "film_drying": gettext_lazy("the film’s time not up"),
    "insert_out": gettext_lazy("a mold insert not in it"),
    "too_hot": gettext_lazy("the part too hot for the tool"),
    "recipe_too_hot": gettext_lazy("the part too hot for the recipe"),
    "not_before": gettext_lazy("before its date"),
    "shop_cold": gettext_lazy("the shop too cold"),
    "shop_hot": gettext_lazy("the shop too warm"),
    "insert_missing": gettext_lazy("a mold insert of the tool set not in it"),
    "insert_elsewhere": gettext_lazy("in a mold that this part is not made in"),
    "half_missing": gettext_lazy("its other half missing"),
    "wrong_hand": gettext_lazy("the wrong hand"),
    "lent": gettext_lazy("lent"),
    "place_unknown": gettext_lazy("nobody knew where it was"),
    "not_confirmed": gettext_lazy("not confirmed for this revision"),
    "look_over_wanted": gettext_lazy("a look-over wanted"),
}


def also_against(words: Mapping[str, str | Promise]) -> None:
    """Adds how the history says the reasons of another app."""
    AGAINST.update(words)


def against(keys: str) -> str:
    """What stood against a use, out of the keys that its entry keeps: held (DECK-2A), a coat wanted (HATCH7)."""
    return ", ".join(_against(*one.strip().partition(" ")) for one in keys.split(",") if one.strip())


def _against(code: str, _space: str, tool: str) -> str:
    said = str(AGAINST.get(code, code))
    return _("%(what)s (%(tool)s)") % {"what": said, "tool": tool} if tool else said


def part_count(part: str, pulls: int) -> str:
    """A part with a number of pulls of its own on this surface."""
    text = ngettext(
        "For %(part)s it has %(n)d pull after a coat, and that is done.",
        "For %(part)s it has %(n)d pulls after a coat, and those are done.",
        pulls,
    )
    return text % {"part": part, "n": pulls}


def insert_out(mold: str, at: datetime, now: datetime, zone: tzinfo) -> str:
    """An insert that was in at the last lay-up."""
    return _("It is not in %(mold)s. It was in at the last lay-up, %(when)s.") % {
        "mold": mold,
        "when": when(at, now, zone),
    }


def put_in(mold: str) -> str:
    """What mends that."""
    return _("Put it into %(mold)s.") % {"mold": mold}


def last_put_in(mold: str, *, strip: bool) -> str:
    """The same where it wants a strip or coats, which are done outside of the mold."""
    if strip:
        text = _("Strip and coat it on the bench first. Last, put it into %(mold)s, when both are through their waits.")
    else:
        text = _("Coat it on the bench first. Last, put it into %(mold)s, when both are through their waits.")
    return text % {"mold": mold}


def work_first(insert: str, mold: str = "", *, strip: bool) -> str:
    """What is asked where it goes in all the same; mold: its code, where it is known."""
    if strip:
        text = _("%(insert)s wants a strip first, on the bench: solvent takes the coats off %(mold)s as well.")
    else:
        text = _("%(insert)s wants coats first, on the bench.")
    return text % {"insert": insert, "mold": mold or _("the mold")}


def strip_mold_first(mold: str, insert: str) -> str:
    """The other way round."""
    text = _("%(mold)s wants a strip first, without %(insert)s in it: solvent takes the coats off %(insert)s as well.")
    return text % {"mold": mold, "insert": insert}


def degrees(number: Decimal, units: str) -> str:
    """A temperature in the reader's units."""
    return str(measure(number, "°C", units))


def too_hot(part: str, peak: str, source: str) -> str:
    """A part that gets hotter than its tool stands; source: what it stands, in words."""
    return _("%(part)s gets as hot as %(peak)s; %(source)s.") % {"part": part, "peak": peak, "source": source}


def recipe_too_hot(part: str, peak: str, recipe: str, limit: str) -> str:
    """A part that gets hotter than what keeps it from sticking stands."""
    text = _("%(part)s gets as hot as %(peak)s; the release recipe %(recipe)s stands %(limit)s.")
    return text % {"part": part, "peak": peak, "recipe": recipe, "limit": limit}


def peak_not_said() -> str:
    """A note where the tool's limit is known."""
    return _("Nobody said how hot the part gets: whether the tool stands it is not known.")


def above_glass_transition(part: str, peak: str, limit: str) -> str:
    """A warning, where the maker's limit is not known."""
    text = _("%(part)s gets as hot as %(peak)s; this softens at %(limit)s (glass transition). Its limit is not known.")
    return text % {"part": part, "peak": peak, "limit": limit}


def ask_the_maker() -> str:
    """What makes sure."""
    return _("Ask its maker how hot it may get, and write that down with the tool.")


def not_before(of: date, today: date) -> str:
    """A tool that is not to be used before a day."""
    return _("Not to be used before %(day)s.") % {"day": day(of, today)}


def until_day(of: date, today: date) -> str:
    """What mends that."""
    return _("Wait until %(day)s.") % {"day": day(of, today)}


def vacuum_drop(value: str, unit: str, at: datetime, now: datetime, zone: tzinfo) -> str:
    """The last reading of the vacuum drop."""
    said = {"value": f"{value} {unit}".strip(), "when": when(at, now, zone)}
    return _("Vacuum drop: %(value)s, measured %(when)s.") % said


def vacuum_not_measured(repaired: bool) -> str:
    """A part that is bagged, and nobody has measured."""
    if repaired:
        return _("Vacuum drop: not measured since the surface was worked on.")
    return _("Vacuum drop: not measured.")


def warmth_range(recipe: str, low: Decimal | None, high: Decimal | None, units: str) -> str:
    """How warm a recipe wants the shop; one of the two is known."""
    if low is None or high is None:
        known = degrees(high if low is None else low, units)  # type: ignore[arg-type]
        text = _("%(recipe)s wants at most %(known)s.") if low is None else _("%(recipe)s wants at least %(known)s.")
        return text % {"recipe": recipe, "known": known}
    said = {"recipe": recipe, "low": degrees(low, units), "high": degrees(high, units)}
    return _("%(recipe)s wants %(low)s to %(high)s.") % said


def out_of_range(celsius: Decimal, at: datetime, units: str, now: datetime, zone: tzinfo) -> str:
    """What was measured, where it is too cold or too warm."""
    said = {"degrees": degrees(celsius, units), "when": when(at, now, zone)}
    return _("%(degrees)s in the shop, measured %(when)s.") % said


def not_measured() -> str:
    """Nobody has taken the temperature today."""
    return _("Shop temperature: not measured today.")
