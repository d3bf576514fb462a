"""The state of a surface worked out: the sum that leads to the pulls left, and what else bears on it."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime, timedelta, tzinfo
from typing import Any

from django.utils.dateformat import format as in_format
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from tooling.calc.due import (
    allowance,
    coats_needed,
    expiry_dates,
    film_too_old,
    film_wanted,
    film_wet,
    idle_since,
    local_date,
    pulls_left,
)
from tooling.calc.recipe import Recipe
from tooling.calc.state import SERVICE, UNKNOWN, State
from tooling.calc.status import Status
from tooling.words.counting import capital
from tooling.words.family import coat_after, coat_line, coat_wanted, family_name
from tooling.words.when import clock_or_when, when

MINUS = "−"
_NOT_KNOWN = "?"


@dataclass(frozen=True, slots=True)
class Step:
    """One line of a sum; the last is its total."""

    words: str
    figure: str
    total: bool = False


@dataclass(frozen=True, slots=True)
class Fact:
    """Something else that bears on the state, with its name."""

    name: str
    words: str


def steps(state: State, recipe: Recipe, status: Status, zone: tzinfo) -> list[Step]:
    """The sum: pulls allowed less pulls done, or coats wanted less coats on."""
    if state.phase == SERVICE:
        return list(_pulls(state, recipe, status, zone))
    if state.phase == UNKNOWN:
        return [
            Step(_("Pulls since the last coat"), _NOT_KNOWN),
            Step(_("Coats that make it known again"), str(recipe.touch_up_coats - state.touch_up_coats), True),
        ]
    return list(_coats(state, recipe))


def _pulls(state: State, recipe: Recipe, status: Status, zone: tzinfo) -> Iterator[Step]:
    allowed = allowance(state, recipe)
    yield Step(_allowed(state, recipe), str(allowed))
    yield Step(_since(state, zone), f"{MINUS} {state.since_coat}")
    limit = recipe.max_pulls_per_preparation
    left = pulls_left(state, recipe)
    if allowed < state.since_coat:
        past = _("Past the %(line)s") % {"line": coat_line(recipe.family)}
        yield Step(past, str(state.since_coat - allowed), True)
        return
    if limit is not None and limit - state.since_preparation < allowed - state.since_coat:
        text = _("But of %(limit)d pulls on one preparation are left")
        yield Step(text % {"limit": limit}, str(max(0, limit - state.since_preparation)))
    if status.wax_after_pull == state.total_pulls + left:
        after = coat_after(recipe.family, status.wax_after_pull)
        yield Step(_("Left: %(after)s") % {"after": after}, str(left), True)
    else:
        yield Step(_("Left by the count"), str(left), True)


def _allowed(state: State, recipe: Recipe) -> str:
    if state.index < len(recipe.break_in):
        cycle = {"n": state.index + 1, "of": len(recipe.break_in)}
        words = _("Pulls allowed after coat %(n)d of %(of)d of the break-in") % cycle
    elif state.own_n is not None:
        words = _("Pulls allowed after a coat, by this tool’s own number")
    else:
        words = _("Pulls allowed after a coat (%(family)s)") % {"family": family_name(recipe.family)}
    if state.cap is not None and state.cap == allowance(state, recipe):
        words = _("%(words)s, no more than the other recipe’s coat that is on allows") % {"words": words}
    return words


def _since(state: State, zone: tzinfo) -> str:
    if state.last_coat is None:
        return _("Pulls since the coat")
    return _("Pulls since the coat of %(day)s") % {"day": in_format(state.last_coat.astimezone(zone), _("j F"))}


def _coats(state: State, recipe: Recipe) -> Iterator[Step]:
    if recipe.sealer_coats:
        yield Step(_("Sealer coats wanted"), str(recipe.sealer_coats))
        yield Step(_("Sealer coats on"), f"{MINUS} {state.sealers}")
    needed = coats_needed(state, recipe)
    yield Step(_("Coats on a new surface") if state.new else _("Coats on a surface prepared before"), str(needed))
    yield Step(_("Coats on"), f"{MINUS} {state.coats}")
    missing = max(0, recipe.sealer_coats - state.sealers) + max(0, needed - state.coats)
    yield Step(_("Still missing"), str(missing), True)


@dataclass(frozen=True, slots=True)
class Uncounted:
    """From when on a tool is counted whose past was not recorded, and whether somebody knew its pulls in all."""

    before: datetime
    pulls_known: bool


def facts(
    state: State, recipe: Recipe | None, now: datetime, zone: tzinfo, uncounted: Uncounted | None = None
) -> list[Fact]:
    """What else bears on the state: limits of time, film, touch-ups, and how much it has been used."""
    found = in_all(state, zone, uncounted)
    if recipe is None:
        return found
    hardens = _hardens(state, now, zone)
    named = (
        (_("Hardening time"), hardens),
        _at_the_latest(state, recipe, now, zone),
        (_("Film"), _film(state, recipe, now, zone)),
        (_("Touch-ups"), _touch_ups(state, recipe)),
        (_("Other numbers"), _own_numbers(state)),
    )
    return [*(Fact(name, words) for name, words in named if words), *found]


def uncounted(start: Any) -> Uncounted | None:
    """What the starting state of a tool says of that, None where it has none."""
    return Uncounted(start.at, "total_pulls" in start.payload) if start is not None else None


def in_all(state: State, zone: tzinfo, uncounted: Uncounted | None) -> list[Fact]:
    """Pulls and coats of its whole life, as far as anybody counted them."""
    pulls, coats = str(state.total_pulls), str(state.total_coats)
    if uncounted is not None:
        since = _("since %(day)s; those before nobody counted")
        since %= {"day": in_format(uncounted.before.astimezone(zone), _("j F Y"))}
        coats = f"{coats} {since}"
        pulls = pulls if uncounted.pulls_known else f"{pulls} {since}"
    return [Fact(_("Pulls in all"), pulls), Fact(_("Coats in all"), coats)]


def _hardens(state: State, now: datetime, zone: tzinfo) -> str:
    if state.phase != SERVICE or state.ready_at is None or state.ready_at <= now:
        return ""
    return _("until %(time)s, then check it is hard") % {"time": clock_or_when(state.ready_at, now, zone)}


def _at_the_latest(state: State, recipe: Recipe, now: datetime, zone: tzinfo) -> tuple[str, str]:
    """What a limit of time asks for, from which day, and which limit it is; no words where none lies ahead."""
    wanted, first = coat_wanted(recipe.family), min(expiry_dates(state, recipe, zone), default=None)
    if first is None or first <= local_date(now, zone):
        return wanted, ""
    said: dict[str, object] = {
        "day": in_format(first, _("j F Y") if first.year != now.astimezone(zone).year else _("j F"))
    }
    idle = idle_since(state)
    if idle is not None and recipe.max_idle_days is not None:
        over = local_date(idle, zone) + timedelta(days=recipe.max_idle_days + 1)
        if over == first:
            days = ngettext("%(n)d idle day is", "%(n)d idle days are", recipe.max_idle_days)
            said["days"] = days % {"n": recipe.max_idle_days}
            return wanted, _("from %(day)s at the latest: then %(days)s over") % said
    if idle is not None and recipe.strip_after_idle_days is not None:
        over = local_date(idle, zone) + timedelta(days=recipe.strip_after_idle_days + 1)
        if over == first:
            said["n"] = recipe.strip_after_idle_days
            return _("Strip wanted"), _("from %(day)s at the latest: then %(n)d idle days are over") % said
    return wanted, _("from %(day)s at the latest: then its coat is too old") % said


def _film(state: State, recipe: Recipe, now: datetime, zone: tzinfo) -> str:
    if not recipe.film_every_pull and not recipe.film_first_pulls:
        return _("none in this recipe")
    if recipe.film_every_pull:
        rule = _("before every pull")
    else:
        rule = ngettext(
            "before the first pull of a preparation", "before the first %(n)d pulls of a preparation",
            recipe.film_first_pulls,
        ) % {"n": recipe.film_first_pulls}  # fmt: skip
    if state.film_at is None or film_too_old(state.film_at, recipe, now):
        stands = _("the next pull wants one") if film_wanted(state, recipe) else ""
    elif film_wet(state.film_at, recipe, now):
        stands = _("one is drying since %(time)s") % {"time": when(state.film_at, now, zone)}
    else:
        stands = _("one is on since %(time)s") % {"time": when(state.film_at, now, zone)}
    return "; ".join(filter(None, (rule, stands)))


def _touch_ups(state: State, recipe: Recipe) -> str:
    if state.phase not in (SERVICE, UNKNOWN):
        return ""
    said = {"n": state.touch_ups, "most": recipe.max_touch_ups}
    if recipe.max_touch_ups is None:
        words = _("%(n)d since the preparation, no limit") % said
    else:
        words = _("%(n)d of %(most)d since the preparation") % said
    return words if state.touch_ups_known else _("%(words)s, as far as is known") % {"words": words}


def _own_numbers(state: State) -> str:
    parts = (_("%(n)d pulls for part %(part)s") % {"n": n, "part": part} for part, n in sorted(state.part_n.items()))
    return capital(", ".join(parts))
