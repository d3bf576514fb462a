"""Which deeds make sense on a tool as it stands, the likeliest first, and what their buttons say."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime

from django.utils.functional import Promise
from django.utils.translation import gettext_lazy as _

from tooling.calc.status import Status
from tooling.words.family import coat_wanted


@dataclass(frozen=True, slots=True)
class Deed:
    """The name of its address, and the word on its button.

    `of`: whose page it is done on: the tool's; else the shop's, the part's, or that of a revision of it.
    """

    name: str
    word: str | Promise
    of: str = "tool"

    @property
    def is_a_leads(self) -> bool:
        """Whether only a lead does it."""
        return self in _LEADS


@dataclass(frozen=True, slots=True)
class Group:
    """Deeds that a hand does at one turn, under a small heading."""

    heading: str | Promise
    deeds: tuple[Deed, ...]


LAY_UP = Deed("lay_up", _("Start lay-up"))
PULLED = Deed("pulled", _("Pulled"))
TAKE_OFF = Deed("take_off_mold", _("Take a mold off it"))
COATS = Deed("coat", _("Coats"))
FILM = Deed("film", _("Film on"))
STRIP = Deed("strip", _("Strip"))
LOOK = Deed("looked_at", _("Look at it"))
LAY_UP_DONE = Deed("lay_up_done", _("Lay-up done"))
ABANDONED = Deed("abandoned", _("Lay-up given up"))
STOP = Deed("hold", _("Stop: do not use"))
TELL = Deed("tell_lead", _("Tell the lead"))
WAX_WANTED = Deed("wax_wanted", _("A coat wanted"))
RELEASE_CHECK = Deed("release_check", _("Tape or water test"))
CLEAN = Deed("clean", _("Clean"))
BUILD_UP = Deed("build_up", _("Build-up seen"))
POLISH = Deed("polish", _("Polish"))
REPAIR = Deed("repair", _("Repair"))
RESURFACED = Deed("resurfaced", _("Resurfaced"))
INSTALLED = Deed("installed", _("Mold insert in"))
REMOVED = Deed("removed", _("Mold insert out"))
READING = Deed("reading", _("Reading"))
NOTE = Deed("note", _("Note"))
DEFECT = Deed("defect_new", _("Mark a defect"))
TRIMMED = Deed("trimmed", _("Trimmed"))
CHECK_EDGE = Deed("check_edge", _("Check the cut edge"))
INTERVAL = Deed("interval", _("Its own number of pulls"))
RECIPE = Deed("release_system", _("Another recipe"))
START = Deed("starting_state", _("Say how it stands"))
MEASURE = Deed("temperature", _("Shop temperature"), of="shop")
STEP = Deed("make_step", _("Next step"))
WORK = Deed("make_work", _("Work on it"))
AGAIN = Deed("make_step", _("Back into the making"))
ACCEPT = Deed("accepted", _("Accept it"))
REINSTATE = Deed("reinstated", _("Reinstate it"))
PAGE = Deed("tool", _("Its page"))
MOVE = Deed("move", _("Put it somewhere"))
FOUND = Deed("move", _("Found: where?"))
LEND = Deed("lend", _("Lend it"))
HAND_BACK = Deed("hand_back", _("Handed back"))
CHANGE = Deed("change_tool", _("Change the tool"))
CHANGE_PART = Deed("change_revision", _("Change the part"), of="revision")
EDIT_SET = Deed("edit_set", _("Tool set"), of="part")
CUTS = Deed("cuts", _("How it sits, its cuts"))

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
_OF_TRIMMING = frozenset({TRIMMED, CHECK_EDGE, CUTS})
# All that is done to a tool, in the order of a day.
_EVERY = (
    Group(_("Parts"), (PULLED, TAKE_OFF, LAY_UP, LAY_UP_DONE, ABANDONED, TRIMMED)),
    Group(_("Coats"), (COATS, FILM, WAX_WANTED, RELEASE_CHECK)),
    Group(_("Cleaning and mending"), (CLEAN, BUILD_UP, STRIP, POLISH, REPAIR, RESURFACED)),
    Group(_("Mold inserts"), (INSTALLED, REMOVED)),
    Group(_("Looking and measuring"), (LOOK, CHECK_EDGE, DEFECT, READING, NOTE)),
    Group(_("Where it is"), (MOVE, LEND, HAND_BACK)),
    Group(_("Its rules"), (INTERVAL, RECIPE, START, CUTS)),
    Group(_("In use or not"), (STEP, WORK, ACCEPT, AGAIN, REINSTATE)),
    Group(_("Wrong with it"), (STOP,)),
)
# What a lead decides.
_LEADS = frozenset({INTERVAL, RECIPE, START, ACCEPT, AGAIN, REINSTATE, CHANGE, CHANGE_PART, EDIT_SET, CUTS})
# An insert is laid up and pulled with its mold; a plug takes no insert; a trim mask has no release surface.
_NOT_OF = {
    "plug": frozenset({INSTALLED, REMOVED, *_OF_TRIMMING}),
    "mold": _OF_TRIMMING,
    "insert": frozenset({PULLED, TAKE_OFF, LAY_UP, LAY_UP_DONE, ABANDONED, *_OF_TRIMMING}),
    "trim_mask": frozenset(deed for group in _EVERY for deed in group.deeds)
    - {LOOK, DEFECT, READING, NOTE, MOVE, LEND, HAND_BACK, STEP, WORK, ACCEPT, AGAIN, REINSTATE, STOP, *_OF_TRIMMING},
}
_OF_RETIRED = frozenset({LOOK, NOTE, MOVE, HAND_BACK, REINSTATE})


def put_in(insert: str) -> str:
    """On a button beside the mold that it goes into."""
    return _("Put %(insert)s in") % {"insert": insert}


def next_deeds(status: Status, *, kind: str, making: bool = False) -> tuple[Deed, ...]:
    """The deeds for a status, the likeliest first. A part is laid up in a mold or on a plug, and pulled from there."""
    if making and status.status not in ("held", "retired"):
        return _while_made(status, kind)
    if kind == "trim_mask":
        if status.status == "retired":
            return ()
        first = LOOK if status.status == "held" else TRIMMED
        return (first, CHECK_EDGE)
    if status.status == "held" and status.in_mold is not None:
        deeds: tuple[Deed, ...] = (LOOK, PULLED)
    elif "no_release_system" in status.why:
        deeds = ()
    else:
        deeds = _NEXT[status.status]
    if kind == "plug":  # what comes off a plug is a tool, and the pull is logged with it
        deeds = tuple(TAKE_OFF if deed == PULLED else deed for deed in deeds)
    if making or kind == "insert":
        deeds = tuple(deed for deed in deeds if deed not in (LAY_UP, LAY_UP_DONE, PULLED, TAKE_OFF))
    return deeds


def _while_made(status: Status, kind: str) -> tuple[Deed, ...]:
    """A plug is sealed and waxed before it is accepted; a mold still sits on its plug, with no surface to coat."""
    if kind == "trim_mask":
        return (STEP, WORK, CHECK_EDGE)
    to_coat = kind == "plug" and "no_release_system" not in status.why and COATS in _NEXT[status.status]
    return (STEP, WORK, COATS) if to_coat else (STEP, WORK)


def other_deeds(
    status: Status, *, kind: str, family: str, shown: Iterable[Deed], left_out: Iterable[Deed] = (), lead: bool = False
) -> tuple[Group, ...]:
    """Whatever else can be written of a tool, by what a hand does: nothing that has happened is out of reach.

    family: of its recipe. shown: the deeds that stand above already. left_out: what makes no sense on this one.
    """
    without = {*shown, *left_out, *_NOT_OF[kind], *(() if lead else _LEADS)}
    without |= frozenset() if status.in_mold is not None else _OF_A_LAY_UP
    groups = []
    for group in _EVERY:
        kept = [deed for deed in group.deeds if deed not in without]
        if status.status == "retired":
            kept = [deed for deed in kept if deed in _OF_RETIRED]
        if kept:
            groups.append(Group(group.heading, tuple(_named(deed, family) for deed in kept)))
    return tuple(groups)


def _named(deed: Deed, family: str) -> Deed:
    """With the word of the recipe's family."""
    return Deed(deed.name, coat_wanted(family)) if deed == WAX_WANTED else deed


def stands_out(status: Status, now: datetime) -> bool:
    """Whether the likeliest deed is filled in: it can be done now."""
    if status.status == "part_in_mold":
        return status.ready_at is None or status.ready_at <= now
    return status.status not in _WAITING
