"""What each surface of a tool set still needs before a lay-up, judged as of the moment when somebody works on it."""

from collections.abc import Iterator
from dataclasses import replace
from datetime import UTC, datetime, time
from typing import NamedTuple

from tooling.calc import together
from tooling.calc.readiness import Out, once_out, steps_of
from tooling.calc.status import Status, status_of
from tooling.calc.timeline import temperature_factor
from tooling.models import RecipeVersion, SetRole, Tool
from tooling.selectors.release import Surface
from tooling.selectors.rows import Rules
from tooling.selectors.tool_set import ToolSet
from tooling.selectors.usable.asked import Asked
from tooling.words import no_lay_up, reckoned
from tooling.words.usable import degrees


class NoWork(Exception):
    """No work makes this surface ready. `code` never changes, the sentence says what to change."""

    def __init__(self, code: str, sentence: str, tool: Tool) -> None:
        super().__init__(sentence)
        self.code, self.tool = code, tool


def surfaces_of(answer: ToolSet) -> list[Surface]:
    """Those of the molds and mold inserts that are offered and needed, and of all that is in one of these molds.

    In the order of the set; what is in a mold and stands in no line comes last.
    """
    asked, found = answer.asked, dict[int, Surface]()
    lines = [one for one in answer.lines if one.offered and one.line.tool_id is not None]
    molds = [one.line.tool_id for one in lines if one.role == SetRole.MOLD and one.needed]
    inside = {one.tool.pk: one for key in molds for one in asked.surfaces.get(key or 0, ())[1:]}
    for one in lines:
        key = one.line.tool_id or 0
        if key in molds or (one.role == SetRole.INSERT and (one.needed or key in inside)):
            found.update({of.tool.pk: of for of in asked.surfaces.get(key, ())[:1]})
    return list({**found, **{key: of for key, of in inside.items() if key not in found}}.values())


class _Judged(NamedTuple):
    """A surface as of a moment: its status, the recipe then, how much longer waits take, and the work."""

    status: Status
    version: RecipeVersion | None
    factor: float
    work: together.Surface


class Needed:
    """One surface: as it stands, or as it will when the part in it is out; and the work on it as steps."""

    def __init__(self, asked: Asked, surface: Surface, rules: Rules) -> None:
        self.asked, self.tool, self._rules = asked, surface.tool, rules
        self.has_part = surface.state.part is not None
        zone = asked.shop.zone
        self.out: Out = once_out(surface.state, self.tool.pk, asked.read.book, zone, asked.at, asked.part)
        self.not_before = _opens(self.tool, asked)
        self._seen, self._as_of = self.out.at, self._judged(self.out.status, self.out.at)

    def judged_later(self, at: datetime) -> bool:
        """Whether it needs something else as of that moment, and then it does; what lies before is left alone.

        A limit of days can run out before anybody is at it, or before the lay-up.
        """
        if at <= self._seen:
            return False
        self._seen = at
        zone, book = self.asked.shop.zone, self.asked.read.book
        status = status_of(self.out.state, self.tool.pk, book, zone, at, self.asked.part)
        judged = self._judged(status, at)
        if judged.work.steps == self._as_of.work.steps:
            return False
        self._as_of = judged
        return True

    @property
    def surface(self) -> together.Surface:
        """For a plan: its steps, and what they wait for."""
        work = self._as_of.work
        if self.not_before is None:
            return work
        return replace(work, ready_from=max(self.not_before, work.ready_from or self.not_before))

    @property
    def ready_from(self) -> datetime | None:
        """When a cure or a film that runs is over; None where none does."""
        ready = self._as_of.work.ready_from
        return ready if ready is not None and ready > self.asked.at else None

    @property
    def ready_at(self) -> datetime:
        """When it is ready where nothing has to be done."""
        return max(filter(None, (self.out.at, self.surface.ready_from)))

    @property
    def family(self) -> str:
        """That of its recipe."""
        version = self._as_of.version
        return version.family if version is not None else "other"

    @property
    def dries(self) -> bool:
        """Whether it is a film that it waits for."""
        return self._as_of.status.status == "film_drying"

    def assumed(self) -> Iterator[str]:
        """What the work and its waits are reckoned with."""
        judged, asked, version = self._as_of, self.asked, self._as_of.version
        waits = self.ready_from is not None or any(step.wait_minutes for step in judged.work.steps)
        if version is None or not waits:
            return
        if version.reference_c is None or not judged.work.steps:
            yield reckoned.as_they_stand(version.system.code)
            return
        measured = asked.read.temperature
        if measured is None:
            yield reckoned.not_measured()
            return
        said = degrees(measured.value_c, asked.units)
        yield reckoned.as_measured(said, measured.at, asked.at, asked.shop.zone)
        if judged.factor > 1:
            yield reckoned.slower(said, judged.factor, version.system.code)

    def _judged(self, status: Status, at: datetime) -> _Judged:
        version = self.asked.read.version_at(self.out.state.system, at)
        work, factor = self._work(status, version), 1.0
        if work.steps or work.again is not None:
            factor = self._factor(version, needed=bool(work.steps))
        return _Judged(status, version, factor, self._work(status, version, factor) if factor > 1 else work)

    def _work(self, status: Status, version: RecipeVersion | None, factor: float = 1.0) -> together.Surface:
        recipe, minutes = self._rules.judged_by(version)
        out, name = self.out.at if self.has_part else None, self.tool.code
        made = steps_of(status, self.out.state, recipe, minutes, name=name, factor=factor, not_before=out)
        if made is None:
            raise NoWork(status.status, no_lay_up.no_recipe(name), self.tool)
        return made

    def _factor(self, version: RecipeVersion | None, needed: bool) -> float:
        measured = self.asked.read.temperature if version is not None and version.reference_c is not None else None
        if version is None or version.reference_c is None or measured is None:
            return 1.0
        low, high = (None if one is None else float(one) for one in (version.low_c, version.high_c))
        try:
            return temperature_factor(float(measured.value_c), float(version.reference_c), low, high)
        except ValueError:
            # A film that is on and may have to go on once more is no work yet.
            if not needed:
                return 1.0
            hot = high is not None and float(measured.value_c) > high
            said = no_lay_up.warmth(degrees(measured.value_c, self.asked.units), version.system.code, hot=hot)
            raise NoWork("shop_hot" if hot else "shop_cold", said, self.tool) from None


def _opens(tool: Tool, asked: Asked) -> datetime | None:
    """When the day begins before which it is not to be used; None where that is past."""
    today = asked.at.astimezone(asked.shop.zone).date()
    if tool.not_before is None or tool.not_before <= today:
        return None
    return datetime.combine(tool.not_before, time(), asked.shop.zone).astimezone(UTC)
