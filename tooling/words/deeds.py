"""Which deeds make sense on a tool as it stands, the likeliest first, and what their buttons say."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime

from django.utils.functional import Promise
from django.utils.translation import gettext_lazy as _

from tooling.calc.status import Status


@dataclass(frozen=True, slots=True)
class Deed:
    """The name of its address, and the word on its button."""

    name: str
    word: str | Promise


LAY_UP = Deed("lay_up", _("Start lay-up"))
PULLED = Deed("pulled", _("Pulled"))
COATS = Deed("coat", _("Coats"))
FILM = Deed("film", _("Film on"))
STRIP = Deed("strip", _("Strip"))
LOOK = Deed("looked_at", _("Look at it"))
LAY_UP_DONE = Deed("lay_up_done", _("Lay-up done"))
ABANDONED = Deed("abandoned", _("Lay-up given up"))
STOP = Deed("hold", _("Stop: do not use"))

_NEXT: dict[str, tuple[Deed, ...]] = {
    "retired": (),
    "held": (LOOK,),
    "part_in_mold": (PULLED, LAY_UP_DONE),
    "needs_strip": (STRIP,),
    "not_prepared": (COATS,),
    "preparing": (COATS, STRIP),
    "needs_touch_up": (COATS, LAY_UP),
    "curing": (LAY_UP, COATS),
    "needs_film": (FILM, LAY_UP),
    "film_drying": (LAY_UP, FILM),
    "last_pull": (LAY_UP, COATS),
    "ready": (LAY_UP, COATS),
}
# While time alone is missing the likeliest deed is to wait: no button stands out.
_WAITING = frozenset({"curing", "film_drying"})
# What ends a lay-up that was begun.
_OF_A_LAY_UP = frozenset({LAY_UP_DONE, ABANDONED})
# All that is done to a tool, in the order of a day; an insert is laid up and pulled with its mold.
_EVERY: dict[str, tuple[Deed, ...]] = {
    "plug": (PULLED, LAY_UP, LAY_UP_DONE, ABANDONED, COATS, FILM, STRIP, LOOK, STOP),
    "mold": (PULLED, LAY_UP, LAY_UP_DONE, ABANDONED, COATS, FILM, STRIP, LOOK, STOP),
    "insert": (COATS, FILM, STRIP, LOOK, STOP),
    "trim_mask": (LOOK, STOP),
}


def next_deeds(status: Status, *, kind: str, making: bool = False) -> tuple[Deed, ...]:
    """The deeds for a status, the likeliest first. A part is laid up in a mold or on a plug, and pulled from there."""
    if kind == "trim_mask":
        return (LOOK,) if status.status == "held" else ()
    if status.status == "held" and status.in_mold is not None:
        deeds: tuple[Deed, ...] = (LOOK, PULLED)
    elif "no_release_system" in status.why:
        deeds = ()
    else:
        deeds = _NEXT[status.status]
    if making or kind == "insert":
        deeds = tuple(deed for deed in deeds if deed not in (LAY_UP, LAY_UP_DONE, PULLED))
    # A mold in the making still sits on its plug: there is no surface to coat.
    if making and kind != "plug":
        deeds = tuple(deed for deed in deeds if deed not in (COATS, FILM, STRIP))
    return deeds


def other_deeds(status: Status, *, kind: str, film: bool, shown: Iterable[Deed]) -> tuple[Deed, ...]:
    """Whatever else can be written of a tool: nothing that has happened is out of reach.

    film: whether its recipe has one. shown: the deeds that stand above already.
    """
    if status.status == "retired":
        return (LOOK,)
    left_out = {*shown, *(() if film else (FILM,)), *(() if status.in_mold is not None else _OF_A_LAY_UP)}
    return tuple(deed for deed in _EVERY[kind] if deed not in left_out)


def stands_out(status: Status, now: datetime) -> bool:
    """Whether the likeliest deed is filled in: it can be done now."""
    if status.status == "part_in_mold":
        return status.ready_at is None or status.ready_at <= now
    return status.status not in _WAITING
