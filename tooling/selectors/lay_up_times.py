"""The answer to from when a part can be laid up: the times, what is done until then, or why none can be said."""

from dataclasses import dataclass, field
from datetime import datetime

from tooling.calc.timeline import ShopHours
from tooling.models import Tool
from tooling.words.deeds import Deed


@dataclass(frozen=True, slots=True)
class StepAt:
    """Work on a surface: strip, sealer, coat or film. `waits_until`: the end of the gap, the cure or the drying."""

    name: str
    starts: datetime
    ends: datetime
    waits_until: datetime


@dataclass(frozen=True, slots=True)
class WorkOn:
    """One surface of the set: what is done on it, and what it waits for.

    out_at: when the part that is in it comes out; `out_known`: somebody said so, else it is taken as now.
    ready_from: the end of a cure that runs, or of a film's drying (`dries`). not_before: when its day begins.
    """

    tool: Tool
    steps: tuple[StepAt, ...]
    out_at: datetime | None
    out_known: bool
    ready_from: datetime | None
    ready_at: datetime
    area: str = ""
    not_before: datetime | None = None
    dries: bool = False
    family: str = "other"


@dataclass(frozen=True, slots=True)
class CannotSay:
    """Why no time is said: `code` never changes, `text` says what to change or to do, `deed` is what does it."""

    code: str
    text: str
    tool: Tool | None = None
    deed: Deed | None = None


@dataclass(frozen=True, slots=True)
class LayUpFrom:
    """The times, all in UTC. `wanted`: asked backward, so that `starts_at` is by when to start.

    lay_up_at is the first moment in shop hours at which all is ready; starts_at is None where there is no work.
    hands: how many are at work at one moment. put_in: the codes of inserts that are not in their mold yet.
    assumed: in sentences, what nobody said or measured, and what has to be put in.
    hours: those it is reckoned with; none where nobody wrote any down, or where they are not possible.
    by_the_record: what a time goes by. besides: what it says nothing of: what the lead was told, and trim masks.
    """

    at: datetime
    lay_up_at: datetime | None = None
    ready_at: datetime | None = None
    starts_at: datetime | None = None
    hands: int = 0
    works: tuple[WorkOn, ...] = ()
    cannot: CannotSay | None = None
    wanted: datetime | None = None
    assumed: tuple[str, ...] = ()
    put_in: tuple[str, ...] = ()
    hours: ShopHours | None = field(default=None, compare=False, repr=False)
    by_the_record: str = ""
    besides: tuple[str, ...] = ()

    @property
    def now(self) -> bool:
        """Whether it can be laid up at the moment itself: nothing to do, nothing to wait for, no part in the way."""
        clear = self.starts_at is None and not self.put_in and all(one.out_at is None for one in self.works)
        return clear and self.lay_up_at is not None and self.lay_up_at <= self.at
