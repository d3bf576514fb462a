"""Several surfaces that are needed at once, a mold with its inserts or both halves of it: when lay-up can begin.

The hands of the shop go from one to the other while coats cure. Lay-up begins when the last of them is ready, and a
coat or film that would be too old by then goes on later.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime

from tooling.calc.bounds import Task, Time
from tooling.calc.chain import Link, Step, backwards, floors_of, links, why_no_place
from tooling.calc.hours import HORIZON, HORIZON_DAYS, Infeasible, ShopHours, Windows
from tooling.calc.keeping import Later, good_from, put_off, stale
from tooling.calc.orders import NoPlaceFor, Starts, alone, at_once, best
from tooling.calc.state import instant, micros
from tooling.calc.timeline import Plan, as_plan, mirrored_slot, mirrored_windows, too_early

# What goes on later makes another wait, and so on; it has never been more than a few times.
_ROUNDS = 30


@dataclass(frozen=True, slots=True)
class Surface:
    """One surface: what has to be done, in order, from `not_before` on (a part has to come out of it first).

    It is ready when all is done and not before `ready_from` (a cure that runs). The longest wait behind its last step
    counts until lay-up begins. Where that is after `good_until`, what is on it now is too old and `again` comes last.
    """

    name: str
    steps: tuple[Step, ...] = ()
    not_before: datetime | None = None
    ready_from: datetime | None = None
    good_until: datetime | None = None
    again: Step | None = None


@dataclass(frozen=True, slots=True)
class Together:
    """A plan a surface, in the order given, and how many hands are at work at one moment.

    `ready_at` is when the last is ready, `lay_up_at` the first moment from then on in shop hours (None where there are
    none), or the wanted time where one was given.
    """

    plans: tuple[Plan, ...]
    hands: int
    ready_at: datetime
    lay_up_at: datetime | None

    @property
    def starts_at(self) -> datetime | None:
        """When the first work begins; None where there is none to do."""
        return min((plan.starts[0] for plan in self.plans if plan.starts), default=None)


def side_by_side(surfaces: Sequence[Surface], start: datetime, hours: ShopHours, hands: int) -> Together:
    """The earliest moment at which all surfaces are ready, of all orders and numbers of hands that are tried.

    Parameters:
        surfaces [-]: what each still needs.
        start [UTC]: before which nothing begins.
        hours [-]: the shop's hours.
        hands [-]: how many people can be at work, from 1.

    Returns:
        [UTC] the plans, when the last is ready, and when lay-up can begin.

    Raises:
        Infeasible: where no plan is possible within 400 days; the sentence begins with the surface.
        ValueError: for no hands, or a start without a zone.

    Source: the house's own rules; `tooling.calc.orders` says what is tried.
    """
    begin = _checked(start, hands)
    later: Later = {}
    surfaces = list(surfaces)
    for _round in range(_ROUNDS):
        chains = [_chain(one) for one in surfaces]
        tasks = [_ahead(one, chains[n], begin, n, later) for n, one in enumerate(surfaces)]
        _within_horizon(surfaces, [max([task.least, *task.floors]) for task in tasks], begin)
        starts = _least(surfaces, tasks, hours, hands, begin)
        done = [task.done(own) for task, own in zip(tasks, starts, strict=True)]
        _within_horizon(surfaces, done, begin)
        ready = max(done, default=begin)
        opens = hours.windows.earliest(ready, 1)
        lay_up = ready if opens is None else opens
        if not _renewed(surfaces, chains, starts, lay_up, hours.windows, later):
            plans = [
                replace(as_plan(chain, own, begin), ready_at=instant(task.done(own)))
                for chain, own, task in zip(chains, starts, tasks, strict=True)
            ]
            return Together(
                tuple(plans), at_once(tasks, starts), instant(ready), None if opens is None else instant(opens)
            )
    raise Infeasible("too_old", "No plan was found in which no coat and no film is too old when lay-up begins.")


def start_by(surfaces: Sequence[Surface], wanted: datetime, hours: ShopHours, hands: int) -> Together:
    """The latest plan with which all surfaces are ready at the wanted time: its `starts_at` is when to start by.

    Parameters:
        surfaces [-]: what each still needs.
        wanted [UTC]: when lay-up is to begin.
        hours [-]: the shop's hours.
        hands [-]: how many people can be at work, from 1.

    Returns:
        [UTC] the plans; `ready_at` may be earlier than wanted.

    Raises:
        Infeasible: where it cannot be by then; the sentence begins with the surface.
        ValueError: for no hands, or a wanted time without a zone.

    Source: the house's own rules; `tooling.calc.orders` says what is tried.
    """
    end = _checked(wanted, hands)
    surfaces = [_for_then(one, end) for one in surfaces]
    chains = [_chain(one) for one in surfaces]
    tasks = [_behind(one, chain, end, hours.windows) for one, chain in zip(surfaces, chains, strict=True)]
    mirrored = _latest(surfaces, chains, tasks, hours, hands, end)
    every = zip(surfaces, chains, tasks, mirrored, strict=True)
    plans = [_no_sooner(one, as_plan(chain, _turned(task, own), end)) for one, chain, task, own in every]
    ready = max((plan.ready_at for plan in plans if plan.starts), default=wanted)
    return Together(tuple(plans), at_once(tasks, mirrored), ready, instant(end))


def _within_horizon(surfaces: Sequence[Surface], moments: Sequence[int], begin: int) -> None:
    for surface, at in zip(surfaces, moments, strict=True):
        if at > begin + HORIZON:
            sentence = f"{surface.name}: is not ready within {HORIZON_DAYS} days."
            raise Infeasible("too_far", sentence, surface=surface.name)


def _least(surfaces: Sequence[Surface], tasks: Sequence[Task], hours: ShopHours, hands: int, begin: int) -> Starts:
    time = Time(hours.windows.earliest, hours.windows.between, begin + HORIZON, hours.known)
    try:
        by_themselves = alone(tasks, time)
    except NoPlaceFor as no:
        raise _named(surfaces, tasks, no, hours, begin, time.limit) from None
    found = best(tasks, time, hands, by_themselves)
    if found is None:
        raise _too_few(hands)
    return found


def _latest(
    surfaces: Sequence[Surface],
    chains: Sequence[list[Link]],
    tasks: Sequence[Task],
    hours: ShopHours,
    hands: int,
    end: int,
) -> Starts:
    time = Time(mirrored_slot(hours), mirrored_windows(hours), HORIZON - end, hours.known)
    try:
        by_themselves = alone(tasks, time)
    except NoPlaceFor as no:
        raise _named(surfaces, tasks, no, hours, end - HORIZON, end) from None

    # Alone each surface is as late as it can be: what is wrong then is wrong in any order.
    for one, chain, task, own in zip(surfaces, chains, tasks, by_themselves, strict=True):
        if no_way := _wrong(one, chain, _turned(task, own), end, hours.windows):
            raise no_way
    found = best(tasks, time, hands, by_themselves)
    if found is None:
        raise _too_few(hands)
    return found


def _wrong(
    surface: Surface, chain: Sequence[Link], starts: Sequence[int], end: int, windows: Windows
) -> Infeasible | None:
    """What speaks against these starts of a surface that is wanted at the end."""
    for allowed, said in ((surface.not_before, "is not free"), (surface.ready_from, "is not ready")):
        first = starts[0] if starts and said == "is not free" else end
        if allowed is not None and first < micros(allowed):
            when = f"{instant(micros(allowed)):%Y-%m-%d %H:%M} UTC"
            sentence = f"{surface.name}: {said} before {when}, which is too late."
            return Infeasible("not_before", sentence, surface=surface.name)
    if early := too_early(chain, starts):
        return _on(surface, early)
    for number, _first in stale(chain, starts, end, windows):
        name = chain[number].step.name
        sentence = f"{surface.name}: {name} would be too old at the wanted time."
        return Infeasible("too_old", sentence, name, surface.name)
    return None


def _checked(at: datetime, hands: int) -> int:
    if hands < 1:
        raise ValueError(f"hands is {hands}; it goes from 1 upwards.")
    if at.tzinfo is None:
        raise ValueError(f"The time {at} has no time zone.")
    return micros(at)


def _chain(surface: Surface) -> list[Link]:
    try:
        chain = links(surface.steps)
    except Infeasible as no:
        raise _on(surface, no) from None
    if chain and chain[-1].longest is not None and chain[-1].longest < chain[-1].wait:
        step = chain[-1].step
        sentence = f"{surface.name}: {step.name} is too old before its wait of {step.wait_minutes:g} min is over."
        raise Infeasible("longest_wait", sentence, step.name, surface.name)
    return chain


def _on(surface: Surface, no: Infeasible) -> Infeasible:
    """The same, said of a surface."""
    return Infeasible(no.code, f"{surface.name}: {no}", no.step, surface.name)


def _ahead(surface: Surface, chain: list[Link], begin: int, number: int, later: Later) -> Task:
    free = begin if surface.not_before is None else max(begin, micros(surface.not_before))
    floors = [max(floor, later.get((number, n), floor)) for n, floor in enumerate(floors_of(chain, free))]
    least = free if surface.ready_from is None else max(free, micros(surface.ready_from))
    return Task(chain, floors, chain[-1].wait if chain else 0, least)


def _behind(surface: Surface, chain: list[Link], end: int, windows: Windows) -> Task:
    """For time that runs backward; its ceilings are what `_wrong` speaks against."""
    back, earliest = backwards(chain), good_from(chain, end, windows)
    allowed = [(n, one.step.not_before) for n, one in enumerate(chain)]
    for number, at in [*allowed, (0, surface.not_before)] if chain else []:
        if at is not None:
            earliest[number] = max(micros(at), earliest[number] or micros(at))
    ceilings = [None if at is None else -at - link.work for link, at in zip(back, earliest[::-1], strict=True)]
    return Task(back, [(chain[-1].wait if chain else 0) - end] * len(chain), 0, -end, ceilings)


def _renewed(
    surfaces: list[Surface],
    chains: Sequence[list[Link]],
    starts: Starts,
    lay_up: int,
    windows: Windows,
    later: Later,
) -> bool:
    """Whether something is too old when lay-up begins; if so it is done later, or once more."""
    found = False
    for number, (chain, own) in enumerate(zip(chains, starts, strict=True)):
        found = put_off(later, number, chain, own, lay_up, windows) or found
        fresh = _for_then(surfaces[number], lay_up)
        if fresh is not surfaces[number]:
            surfaces[number], found = fresh, True
    return found


def _for_then(surface: Surface, lay_up: int) -> Surface:
    """The surface with all that it needs for a lay-up at that moment."""
    if surface.again is None or surface.good_until is None or micros(surface.good_until) >= lay_up:
        return surface
    return replace(surface, steps=(*surface.steps, surface.again), good_until=None, again=None)


def _turned(task: Task, mirrored: Sequence[int]) -> list[int]:
    """Starts in time that runs backward as starts in time."""
    return [-(at + link.work) for at, link in zip(mirrored, task.chain, strict=True)][::-1]


def _no_sooner(surface: Surface, plan: Plan) -> Plan:
    if surface.ready_from is None or not plan.starts or plan.ready_at >= surface.ready_from:
        return plan
    return replace(plan, ready_at=instant(micros(surface.ready_from)))


def _named(
    surfaces: Sequence[Surface], tasks: Sequence[Task], no: NoPlaceFor, hours: ShopHours, begin: int, end: int
) -> Infeasible:
    return _on(surfaces[no.task], why_no_place(tasks[no.task].chain, no.failed, hours.windows, begin, end))


def _too_few(hands: int) -> Infeasible:
    said = "one hand" if hands == 1 else f"{hands} hands"
    return Infeasible("hands", f"With {said} the waits of all these surfaces cannot be kept.")
