"""From when a part can be laid up if work on its tool set starts now; or by when it has to start for a wanted time.

The times are worked out from what was read for the answer of the tool set: nothing is read again.
"""

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import replace
from datetime import datetime, timedelta

from tooling.calc.hours import HORIZON_DAYS
from tooling.calc.readiness import FILM
from tooling.calc.timeline import Infeasible, Plan, ShopHours
from tooling.calc.together import Surface, Together, side_by_side, start_by
from tooling.models import SetRole, Shop, Tool
from tooling.selectors.lay_up_times import CannotSay, LayUpFrom, StepAt, WorkOn
from tooling.selectors.rows import Rules
from tooling.selectors.set_work import Needed, NoWork, surfaces_of
from tooling.selectors.shop_hours import shop_hours
from tooling.selectors.tool_set import LineNow, ToolSet
from tooling.selectors.usable.reason import Reason
from tooling.words import no_lay_up, reckoned

# Inserts that are waxed on the bench and go into their mold when they are done.
PUT_IN = frozenset({"insert_missing", "insert_elsewhere"})
# Reasons that go away by work on the surface, by pulling the part, or by waiting: their times are known.
PASSING = PUT_IN | {
    "part_in_mold", "needs_strip", "not_prepared", "preparing", "needs_touch_up", "part_count", "curing", "needs_film",
    "film_drying", "not_before",
}  # fmt: skip
# A limit of days that runs out before the work begins makes more of it, and so on; it has never been more than twice.
_ROUNDS = 5


def lay_up_from(answer: ToolSet, *, wanted: datetime | None = None) -> LayUpFrom:
    """When the set can be laid up, forward from the moment of the answer; or backward from a wanted time."""
    return _Reckoned(answer, _Hours(answer.asked.shop)).of(wanted)


def of_each(answers: Iterable[ToolSet]) -> dict[int, LayUpFrom]:
    """The same, forward, for many sets by the keys of their revisions: the shop's hours are laid out once."""
    found, hours = {}, None
    for answer in answers:
        hours = hours or _Hours(answer.asked.shop)
        found[answer.revision.pk] = _Reckoned(answer, hours).of(None)
    return found


class _Hours:
    """The shop's hours and hands. `lacks`: what stands in the way of any hours, as a code; "" where nothing does."""

    def __init__(self, shop: Shop) -> None:
        self.hands, self.hands_known = shop.hands or 1, shop.hands is not None
        self.lacks = "" if shop.week.strip() else "no_week"
        self.open = ShopHours(shop.zone, {})
        try:
            self.open = shop_hours(shop)
        except ValueError:
            self.lacks = "wrong_week"


class _Reckoned:
    """One answer, and the shop's hours that it is reckoned with."""

    def __init__(self, answer: ToolSet, hours: _Hours) -> None:
        self.answer, self.asked, self.shop = answer, answer.asked, hours

    def of(self, wanted: datetime | None) -> LayUpFrom:
        """Forward, or backward from a wanted time."""
        at, zone = self.answer.at, self.asked.shop.zone
        if wanted is not None and wanted < at:
            return self._cannot("wanted_past", no_lay_up.wanted_past(wanted, at, zone), wanted=wanted)
        stopped = self._stopped()
        if stopped is not None:
            return LayUpFrom(at, cannot=stopped, wanted=wanted)
        if wanted is not None and wanted > at + timedelta(days=HORIZON_DAYS):
            return self._cannot("wanted_far", no_lay_up.wanted_far(wanted, at, zone), wanted=wanted)
        try:
            return self._forward() if wanted is None else self._backward(wanted)
        except NoWork as no:
            return self._cannot(no.code, str(no), no.tool, wanted=wanted)
        except Infeasible as no:
            code = self.shop.lacks if no.code == "no_hours" and self.shop.lacks else no.code
            text = no_lay_up.no_way(code, no.surface, no.step)
            return self._cannot(code, text, self._tool(no.surface), wanted=wanted)

    def _cannot(self, code: str, text: str, tool: Tool | None = None, *, wanted: datetime | None) -> LayUpFrom:
        return LayUpFrom(self.answer.at, cannot=CannotSay(code, text, tool), wanted=wanted)

    def _stopped(self) -> CannotSay | None:
        """The first reason against a mold or an insert that is needed which no work on it mends."""
        if self.answer.why:
            return CannotSay("no_set" if not self.answer.lines else "no_mold", self.answer.why)
        for line, reason in self._reasons():
            if reason.code not in PASSING:
                return CannotSay(reason.code, _said(reason), self._tool(reason.tool) or line.tool, reason.deed)
        return None

    def _reasons(self) -> Iterator[tuple[LineNow, Reason]]:
        """What stands against the molds and inserts that are offered and needed."""
        for line in self.answer.needed(SetRole.MOLD, SetRole.INSERT):
            yield from ((line, reason) for reason in line.reasons)

    def _tool(self, code: str) -> Tool | None:
        every = [one.tool for found in self.asked.surfaces.values() for one in found]
        return next((one for one in (*every, *self.asked.tools) if one.code == code), None)

    def _needed(self) -> list[Needed]:
        rules = Rules(self.asked.read.recipes)
        return [Needed(self.asked, one, rules) for one in surfaces_of(self.answer)]

    def _forward(self) -> LayUpFrom:
        needed = self._needed()
        plan = self._planned(needed, self._ahead)
        lay_up = plan.lay_up_at
        if lay_up is None and plan.ready_at > self.answer.at:
            raise Infeasible("no_hours", "")
        return self._found(needed, plan, lay_up or self.answer.at)

    def _backward(self, wanted: datetime) -> LayUpFrom:
        needed, why = self._needed(), None
        try:
            plan = self._planned(needed, lambda surfaces: start_by(surfaces, wanted, self.shop.open, self.shop.hands))
            if plan.starts_at is None or plan.starts_at >= self.answer.at:
                return self._in_time(needed, plan, wanted)
        except Infeasible as no:
            why = no
        # As late as can be is not to be had: then as soon as can be, where that is in time.
        needed, then = self._needed(), Surface("", ready_from=wanted)
        plan = self._planned(needed, lambda surfaces: self._ahead([*surfaces, then]))
        if plan.ready_at <= wanted:
            return self._in_time(needed, plan, wanted)
        first = self._forward().lay_up_at
        if first is None or first <= wanted:
            raise why or Infeasible("too_old", "")
        text = no_lay_up.too_late(wanted, first, self.answer.at, self.asked.shop.zone)
        return self._cannot("too_late", text, wanted=wanted)

    def _in_time(self, needed: Sequence[Needed], plan: Together, wanted: datetime) -> LayUpFrom:
        """What was found for a wanted time; said as well where the shop is closed then."""
        found, hours = self._found(needed, plan, wanted, wanted), self.shop.open
        try:
            until, again = hours.open_until(wanted), hours.open_from(wanted)
        except Infeasible:
            return found
        if again == wanted:
            return found
        closed = no_lay_up.closed_then(wanted, until, again, self.answer.at, self.asked.shop.zone)
        return replace(found, assumed=(closed, *found.assumed))

    def _ahead(self, surfaces: Sequence[Surface]) -> Together:
        return side_by_side(surfaces, self.answer.at, self.shop.open, self.shop.hands)

    def _planned(self, needed: Sequence[Needed], plan_of: Callable[[list[Surface]], Together]) -> Together:
        """The plan of what each surface needs when its turn comes."""
        for _round in range(_ROUNDS):
            plan = plan_of([one.surface for one in needed])
            every = zip(needed, plan.plans[: len(needed)], strict=True)
            changed = [one for one, own in every if one.judged_later(_as_of(own, plan.lay_up_at or plan.ready_at))]
            if not changed:
                return plan
        raise Infeasible("unsettled", "")

    def _found(
        self, needed: Sequence[Needed], plan: Together, lay_up: datetime, wanted: datetime | None = None
    ) -> LayUpFrom:
        works = tuple(_work_on(one, own) for one, own in zip(needed, plan.plans, strict=False))
        assumed = list(reckoned.reckoned_out(works, self.answer.at, self.asked.shop.zone))
        assumed += [said for one in needed for said in one.assumed()]
        if any(one.steps for one in works) and not self.shop.hands_known:
            assumed.append(reckoned.one_hand())
        missing: dict[str, str] = {}
        for _line, reason in self._reasons():
            if reason.code in PUT_IN:
                missing.setdefault(reason.tool, no_lay_up.said_of(reason.tool, reason.mend))
        return LayUpFrom(
            at=self.answer.at,
            lay_up_at=lay_up,
            ready_at=max((one.ready_at for one in works), default=self.answer.at),
            starts_at=plan.starts_at,
            hands=plan.hands,
            works=works,
            wanted=wanted,
            assumed=tuple(dict.fromkeys([*assumed, *missing.values()])),
            put_in=tuple(missing),
            hours=self.shop.open,
            by_the_record=reckoned.by_the_record(hardware=any(line.tool is None for line in self.answer.lines)),
            besides=tuple(self._besides()),
        )

    def _besides(self) -> Iterator[str]:
        offered = [line for line in self.answer.lines if line.offered and line.tool is not None]
        told = {note.tool for line in offered for note in line.notes if note.code == "told_to_lead"}
        if told:
            yield reckoned.told_to_lead(sorted(told))
        for line in offered:
            if line.role == SetRole.TRIM_MASK and not line.usable:
                yield reckoned.not_yet_trimmed(line.line.what)


def _as_of(own: Plan, lay_up: datetime) -> datetime:
    """As of when a surface is judged: a coat that goes on renews its limits of days, a film does not."""
    return next((at for one, at in zip(own.steps, own.starts, strict=True) if one.name != FILM), lay_up)


def _work_on(needed: Needed, plan: Plan) -> WorkOn:
    every = zip(plan.steps, plan.starts, plan.ends, strict=True)
    steps = [StepAt(one.name, start, end, end + timedelta(minutes=one.wait_minutes)) for one, start, end in every]
    return WorkOn(
        tool=needed.tool,
        steps=tuple(steps),
        out_at=needed.out.at if needed.has_part else None,
        out_known=needed.out.known,
        ready_from=needed.ready_from,
        ready_at=plan.ready_at if steps else needed.ready_at,
        not_before=needed.not_before,
        dries=needed.dries,
        family=needed.family,
    )


def _said(reason: Reason) -> str:
    """The reason with the tool that it is about, and what mends it."""
    return no_lay_up.stopped(reason.tool, f"{reason.text} {reason.beside}".strip(), reason.code)
