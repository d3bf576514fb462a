"""What the page of coats says: which coat it is, what to do about the last one, when the next may go on."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime, timedelta, tzinfo
from typing import Any

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from tooling.calc.ahead import Ahead
from tooling.calc.readiness import film_missing
from tooling.calc.state import State, decode
from tooling.calc.status import Status
from tooling.words.counting import capital, coats, coats_of_sealer, missing_coats
from tooling.words.when import clock_or_when, lasting, whole_minute


def heading(plan: Ahead | None) -> str:
    """2 of 3 coats on; how many are wanted before the first; else just what the page is about."""
    if plan is not None and plan.strip:
        return _("Strip first")
    if plan is None or not (plan.wanted or plan.complete):
        return _("Coats")
    if plan.on or plan.complete:
        said = {"on": plan.on or plan.complete, "wanted": plan.wanted or plan.complete}
        return _("%(on)d of %(wanted)d coats on") % said
    return capital(_("%(coats)s wanted") % {"coats": coats(plan.wanted)})


def button(plan: Ahead | None) -> str:
    """What goes on next, a coat by its number where it is one of several."""
    if plan is None or not plan.step:
        return _("One more coat on")
    if plan.step != "coat":
        return FURTHER[plan.step]
    return _("Coat on") if plan.wanted == 1 else _("Coat %(number)d on") % {"number": plan.on + 1}


# The buttons of what may have gone on instead, or whose number nobody has to know.
FURTHER = {
    "sealer": gettext_lazy("One coat of sealer on"),
    "coat": gettext_lazy("One more coat on"),
    "film": gettext_lazy("Film on"),
}


def out_of_order(plan: Ahead | None, what: str) -> str:
    """What follows from putting this on now, where it is not what goes on next; "" where nothing does."""
    if plan is None or plan.strip:
        return ""
    if what == "coat" and plan.sealers:
        return _("The sealer goes under the coats. A coat before it is written, and then it has to be stripped.")
    if what == "sealer" and not plan.sealers and (plan.on or plan.complete or not plan.missing):
        return _("The sealer goes under the coats. One over them is written, and then it has to be stripped.")
    if what != "film" and plan.film_at is not None:
        return _("It spoils the film that is on.")
    if what == "film" and (plan.sealers or plan.missing):
        return _("The film goes over the last coat. One before it is written and flagged; the next coat spoils it.")
    return ""


@dataclass(frozen=True, slots=True)
class Earliest:
    """The earliest lay-up: its clock, or what stands for it, and what it waits for. `now`: it waits for nothing."""

    at: datetime | None
    said: str
    now: bool = False


def steps(status: Status, film: bool) -> str:
    """strip it first, then three coats, then a film: all that has to be done before a lay-up; "" where nothing has."""
    found = [_("strip it first")] if status.status == "needs_strip" else []
    found += [missing_coats(*status.need)] if status.need is not None else []
    found += [_("a film")] if film else []
    return _(", then ").join(found)


def earliest(row: Any, now: datetime) -> Earliest:
    """When it can be laid up if everything that is missing begins now: the same moment as on the morning board."""
    status = row.own
    if row.summary.making:
        return Earliest(None, _("it is still in the making: it has to be accepted first"))
    if row.summary.accept_again:
        return Earliest(None, _("it was brought back: it has to be accepted first"))
    ready = row.ready_if_started(now)
    if ready is None:
        return Earliest(None, _NO_TIME.get(row.status.status, _("no release recipe is chosen for it")))
    at = whole_minute(ready) if ready > now else now
    film = film_missing(status, decode(row.summary.state), row.recipe.as_calc())
    said = [part for part in (steps(status, film), _work(status, row.recipe, film)) if part]
    text = _("if started now: %(steps)s") % {"steps": ", ".join(said)} if said else _waits(status)
    if row.on:
        text = _("%(text)s; with %(code)s, which is in it") % {"text": text, "code": row.on}
    return Earliest(at, text, at <= now)


def _waits(status: Status) -> str:
    if status.status == "curing":
        return _("when the last coat’s time is up")
    if status.status == "film_drying":
        return _("when the film’s drying time is up")
    return _("nothing is missing")


def to_check(states: Iterable[State]) -> list[str]:
    """What somebody has to look at whose time is up by the record: a film, and a coat that no part was laid up on."""
    known = list(states)
    said = [_("Check that the film is dry.")] if any(state.film_at for state in known) else []
    if any(
        state.ready_at and state.last_coat and state.ready_at > state.last_coat
        for state in known
        if not state.since_coat
    ):
        said.append(_("Check that the last coat is hard."))
    return said


def _work(status: Status, recipe: Any, film: bool) -> str:
    """How long the hands are at it, as far as that is in the time."""
    said = []
    if status.status == "needs_strip":
        said.append(_("%(n)g min of work for the strip") % {"n": recipe.strip_minutes})
    if status.need is not None:
        said.append(_("%(n)g min of work a coat") % {"n": recipe.coat_minutes})
    if film:
        said.append(_("%(n)g min of work for the film") % {"n": recipe.film_minutes})
    return _("with %(work)s") % {"work": _(" and ").join(said)} if said else ""


_NO_TIME = {
    "held": gettext_lazy("it is held: somebody looks at it first"),
    "part_in_mold": gettext_lazy("a part is in it: that comes out first"),
    "retired": gettext_lazy("it is retired"),
}


def last_coat(family: str, number: int, minutes: float, since: datetime, now: datetime, zone: tzinfo) -> str:
    """What to do about the coat that went on last. Only a finger says that wax has hazed, never a clock."""
    if family != "paste_wax" and not minutes:
        return _("Coat %(number)d is on") % {"number": number}
    from_then = since + timedelta(minutes=minutes)
    if not minutes:
        return _("Hazed? Test it with a gloved finger")
    waits, by_finger = now < from_then, family == "paste_wax"
    if waits:
        text = _("Wipe from %(time)s: test it with a gloved finger first") if by_finger else _("Wipe from %(time)s")
        return text % {"time": clock_or_when(from_then, now, zone)}
    if by_finger:
        return _("Should have hazed by now: test it with a gloved finger")
    return _("Wipe now, gloves on, as its data sheet says")


def went_on(kind: str, count: int) -> str:
    """One coat, two coats of sealer, a film."""
    if kind == "film":
        return _("a film")
    return coats_of_sealer(count) if kind == "sealer" else coats(count)


def film_clock(dry_at: datetime | None, now: datetime, zone: tzinfo) -> str:
    """When the drying time is up. That says nothing of the film itself."""
    if dry_at is None:
        return _("Film: time is up, check it is dry")
    return _("Film: not before %(time)s, check it is dry") % {"time": clock_or_when(dry_at, now, zone)}


def off_in(now: datetime, then: datetime) -> str:
    """in 44 minutes"""
    return _("in %(long)s") % {"long": lasting(then - now)}
