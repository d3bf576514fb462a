"""What was laid up on a plug or a mold comes off it and is a tool: the pull of the one, the beginning of the other."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Unpack
from uuid import UUID, uuid5

from django.utils.translation import gettext as _

from shared import clock
from shared.errors import AskFirst, Refused
from tooling.calc.entry import part_key
from tooling.models import Entry, Person, Place, Summary, Tool, tidy_code
from tooling.selectors.loads import Over, over
from tooling.selectors.walk import begun, starting_state
from tooling.services import deeds
from tooling.services.catalogue import bring_in, change_tool
from tooling.services.deeds.base import Said
from tooling.services.deeds.matched import all_or_none
from tooling.services.deeds.undo import sent_before
from tooling.services.pictures import Stored, add_stored
from tooling.services.trying import tried

# What came off so is no tool.
LOST = "lost"


class TooHeavy(AskFirst):
    """Where it is put, a place would carry more than its limit: `over` says which."""

    def __init__(self, found: Over) -> None:
        super().__init__(_("That is more than %(place)s carries.") % {"place": found.place.name}, "place")
        self.over = found


@dataclass(frozen=True, slots=True)
class Taken:
    """The pull that was written, and the tool that came off."""

    entry: Entry
    tool: Tool


@dataclass(frozen=True, slots=True)
class Away:
    """Where it goes from there, at which step of its making it is, and its picture; all of it may be left.

    home: it is at home there. heavy: the key of the place that is known to carry more than its limit then.
    """

    place: Place | None = None
    home: bool = False
    heavy: int | None = None
    step: str = ""
    picture: Stored | None = None


def take_off(
    source: Tool,
    *,
    came_off: str,
    lay_up: int | None = None,
    off: Tool | None = None,
    columns: Mapping[str, Any],
    away: Away = Away(),
    written: Entry | None = None,
    another: bool = False,
    **said: Unpack[Said],
) -> Taken:
    """A tool comes off the plug or mold that it was laid up on: the pull of that, and it is there, or nothing is.

    Order: the locks; what stands against it; the tool is brought in as one in the making, or what is known of it by now
    is changed (`columns`); the pull, which names its code; it begins bare and new; its step; where it was put; its
    picture. The same form again gets the first answer.

    off: the tool in the making that it is; None: a new one. lay_up, another: as `deeds.take_off` has them. written: the
    pull was logged before, and is only told what came off. Raises ValidationError by column, Refused, TooHeavy, and
    PulledMeanwhile.
    """
    if came_off == LOST:
        raise Refused(_("What was lost is no tool: log the pull alone."), "came_off")
    pull = {"came_off": came_off, "lay_up": lay_up, "another": another, **said}
    code = off.code if off is not None else tidy_code(columns["code"])
    if tried() is not None or was_sent(said.get("token")):
        return _again(source, code, written, pull)
    made: list[Tool] = []

    def write() -> list[Entry]:
        _check(source, off)
        made[:] = [_brought_in(source, columns, said) if off is None else _changed(source, off, columns, said)]
        entry = _pulled(source, made[0].code, written, pull)
        _begin(made[0], away, said)
        return [entry]

    (entry,) = all_or_none([source, *([off] if off is not None else [])], write)
    return Taken(entry, made[0])


def was_sent(token: UUID | None) -> bool:
    """Whether a form with this token was written: with the pull, or where that was logged before with the beginning."""
    return token is not None and sent_before(token, *(uuid5(token, what) for what in ("start", "step", "place")))


def _again(source: Tool, code: str, written: Entry | None, pull: dict[str, Any]) -> Taken:
    """The pull alone: while it is only tried; sent again, the ledger knows it."""
    entry = _pulled(source, code, written, pull)
    return Taken(entry, Tool.objects.called(code).first() or source)


def _check(source: Tool, off: Tool | None) -> None:
    summary = Summary.objects.get(tool=source)
    said = {"source": source.code, "tool": off.code if off is not None else ""}
    if summary.retired:
        raise Refused(_("%(source)s is retired: nothing comes off it.") % said)
    if summary.held_since is not None and summary.laid_up_at is None:
        raise Refused(_("%(source)s is held, and nothing is laid up on it: look at it first.") % said)
    if off is None:
        return
    if not off.summary.making or off.summary.retired:
        raise Refused(_("%(tool)s is not in the making: it came off before.") % said)
    if off.made_from_id not in (None, source.pk):
        raise Refused(_("%(tool)s was made from another tool than %(source)s.") % said)


def _brought_in(source: Tool, columns: Mapping[str, Any], said: Said) -> Tool:
    who = _signed_in(said)
    begun_as = {"made_from": source, "in_making": True}
    return bring_in(by=who, at=clock.now(), columns={**columns, **begun_as})


def _changed(source: Tool, off: Tool, columns: Mapping[str, Any], said: Said) -> Tool:
    wanted = dict(columns) if off.made_from_id is not None else {**columns, "made_from": source}
    if wanted:
        change_tool(off, by=_signed_in(said), at=clock.now(), columns=wanted)
    return Tool.objects.get(pk=off.pk)


def _signed_in(said: Said) -> Person:
    who = said.get("recorded_by")
    if who is None:
        raise Refused(_("Somebody has to be signed in to bring in a tool."))
    return who


def _pulled(source: Tool, code: str, written: Entry | None, pull: dict[str, Any]) -> Entry:
    if written is None:
        return deeds.take_off(source, part=code, **pull)
    if part_key(written.part) == part_key(code):
        return written
    why = _("it is known what came off")
    return deeds.correct(
        written, reason=why, changes={"part": code}, recorded_by=pull.get("recorded_by"), token=pull.get("token")
    )


def _begin(tool: Tool, away: Away, said: Said) -> None:
    """Bare and new, at its step, in its place, with its picture."""
    if tool.has_surface and not begun(tool) and starting_state(tool) is None:
        deeds.set_starting_state(tool, prepared="no", total_pulls=0, **_of(said, "start"))
    if away.step:
        deeds.make_step(tool, step=away.step, **_of(said, "step"))
    if away.place is not None:
        found = over(away.place, [tool])
        if found is not None and found.place.pk != away.heavy:
            raise TooHeavy(found)
        deeds.move(tool, place=away.place, home=away.home, **_of(said, "place"))
    if away.picture is not None:
        add_stored(tool, away.picture, by=said.get("by"), recorded_by=said.get("recorded_by"), at=clock.now())


def _of(said: Said, what: str) -> Said:
    """Whose hands and when, for one more entry of the same form; its words stand with the pull."""
    token: UUID | None = said.get("token")
    own = uuid5(token, what) if token is not None else None
    return {**said, "token": own, "note": ""}
