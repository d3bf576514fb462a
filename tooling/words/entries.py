"""What a line of the history says: the deed first, and then what is known of it."""

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from datetime import date, datetime, tzinfo
from decimal import Decimal
from typing import Any, Protocol

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy as later

from shared.units import METRIC
from tooling.words import readings
from tooling.words.at_step import worked
from tooling.words.counting import capital, coats, coats_of_sealer, in_words, pulls
from tooling.words.defects import head_of, in_history
from tooling.words.limits import stands_said
from tooling.words.looks_answered import gone_through
from tooling.words.measures import measure
from tooling.words.moves import handed_back_with_it
from tooling.words.places import lent
from tooling.words.terms import (
    AREAS,
    CAME_OFF,
    CAUSES,
    CLEANED_WITH,
    COAT_REASONS,
    FAULTS,
    LAY_UP_REASONS,
    METHODS,
    OUTCOMES,
    RELEASE_TESTS,
    term,
)
from tooling.words.usable import against
from tooling.words.when import moment


class Fact(Protocol):
    """The columns of an entry that its line says."""

    kind: str
    at: datetime
    count: int | None
    area: str
    came_off: str
    film: bool | None
    part: str
    serial: str
    release_system: str
    earliest_pull: datetime | None
    mold_id: int | None
    payload: Mapping[str, Any]


@dataclass(frozen=True, slots=True)
class Around:
    """What an entry is told with: the moment of reading, the zone, and the codes of tools and places it points to.

    units: those of the reader. counts: which place each count was of, by its number. loans: who had it until it was
    seen at that moment.
    """

    now: datetime
    zone: tzinfo
    tools: Mapping[int, str] = field(default_factory=dict)
    places: Mapping[int, str] = field(default_factory=dict)
    units: str = METRIC
    counts: Mapping[int, str] = field(default_factory=dict)
    loans: Mapping[datetime, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Told:
    """The deed in bold, and the sentences after it."""

    head: str
    more: tuple[str, ...] = ()


PLAIN = {
    "film": later("Film on"),
    "lay_up": later("Lay-up started"),
    "lay_up_done": later("Lay-up done"),
    "abandoned": later("Lay-up given up"),
    "resurfaced": later("Resurfaced: the surface is new"),
    "clean": later("Cleaned"),
    "build_up": later("Build-up seen"),
    "wax_wanted": later("A coat asked for"),
    "hold": later("Held"),
    "retired": later("Retired"),
    "reinstated": later("Reinstated"),
    "accepted": later("Accepted: it may be used"),
    "handed_back": later("Handed back"),
    "note": later("Note"),
}
_MENDING = frozenset({"repair", "polish", "resurfaced"})
# The deed on the whole surface, and on a part of it.
SURFACE = {
    "strip": (later("Stripped to bare"), later("Stripped, %(area)s")),
    "repair": (later("Repaired"), later("Repaired, %(area)s")),
    "polish": (later("Polished"), later("Polished, %(area)s")),
}
# What was looked at passed, or did not.
PASSED = {
    "inspected": (later("Looked at: passed"), later("Looked at: did not pass")),
    "release_check": (later("Tape or water test: passed"), later("Tape or water test: failed")),
    "check": (later("Cut edge checked: passed"), later("Cut edge checked: failed")),
}


# What another app says of a kind of entry that it writes, behind what is said here.
_FURTHER: dict[str, Callable[[Fact, Around], Iterable[str]]] = {}


def register(kind: str, further: Callable[[Fact, Around], Iterable[str]]) -> None:
    """Adds sentences to the line of a kind of entry."""
    _FURTHER[kind] = further


def told(fact: Fact, around: Around, *, serial: bool = True) -> Told:
    """One line of the history. `serial`: with its serial numbers, unless they are said beside it."""
    return Told(_head(fact, around), tuple(_more(fact, around, serial)))


def _head(fact: Fact, around: Around) -> str:
    if fact.payload.get("for_lead"):
        return _("Told to the lead")
    if fact.kind == "note" and fact.payload.get("defects"):
        return head_of(fact.payload["defects"], fact.kind)
    if fact.kind in PLAIN:
        return str(PLAIN[fact.kind])
    if fact.kind in SURFACE:
        whole, part = SURFACE[fact.kind]
        return str(whole) if fact.area == "whole" else str(part) % {"area": term(AREAS, fact.area)}
    if fact.kind in PASSED:
        yes, no = PASSED[fact.kind]
        return str(yes if fact.payload.get("passed") else no)
    return _HEADS[fact.kind](fact, around)


def _pull(fact: Fact, around: Around) -> str:
    how = term(CAME_OFF, fact.came_off)
    if (fact.count or 1) == 1:
        return _("Pulled, %(how)s") % {"how": how} if how else _("Pulled")
    several = {"several": capital(in_words(fact.count or 1)), "how": how}
    return _("%(several)s pulls, the last %(how)s") % several if how else _("%(several)s pulls") % several


def _used(fact: Fact, around: Around) -> str:
    several = {"several": capital(in_words(fact.count or 1)), "how": term(OUTCOMES, fact.payload.get("outcome", ""))}
    if (fact.count or 1) == 1:
        return _("Trimmed, %(how)s") % several if several["how"] else _("Trimmed")
    return (
        _("%(several)s trimmed, the last %(how)s") % several if several["how"] else _("%(several)s trimmed") % several
    )


def _coat(fact: Fact, around: Around) -> str:
    return f"{capital(coats(fact.count or 1))}, {term(AREAS, fact.area)}"


def _sealer(fact: Fact, around: Around) -> str:
    return f"{capital(coats_of_sealer(fact.count or 1))}, {term(AREAS, fact.area)}"


def _interval(fact: Fact, around: Around) -> str:
    head = _("A coat as often as the recipe says")
    if fact.count is not None:
        head = _("A coat after every %(pulls)s") % {"pulls": pulls(fact.count)}
    return _("%(head)s, for part %(part)s") % {"head": head, "part": fact.part} if fact.part else head


def _release_system(fact: Fact, around: Around) -> str:
    return _("Recipe from now on: %(recipe)s") % {"recipe": fact.release_system}


def _starting_state(fact: Fact, around: Around) -> str:
    prepared, since = fact.payload.get("prepared"), fact.payload.get("pulls_since_coat")
    if prepared == "no":
        return _("Starting state: bare")
    if prepared == "yes" and since is not None:
        return _("Starting state: prepared, %(pulls)s since the coat") % {"pulls": pulls(since)}
    if since is not None:
        return _("Starting state: %(pulls)s since a coat of which nobody knows the day") % {"pulls": pulls(since)}
    return _("Starting state: nobody knows what is on it")


def _making(fact: Fact, around: Around) -> str:
    step = fact.payload.get("step")
    return _("In the making: %(step)s") % {"step": step} if step else _("In the making")


def _installed(fact: Fact, around: Around) -> str:
    return _("Installed in %(mold)s") % {"mold": around.tools.get(fact.mold_id or 0, "?")}


def _removed(fact: Fact, around: Around) -> str:
    mold = around.tools.get(fact.mold_id or 0)
    return _("Removed from %(mold)s") % {"mold": mold} if mold else _("Removed from its mold")


def _moved(fact: Fact, around: Around) -> str:
    place = around.places.get(fact.payload.get("place", 0))
    if fact.payload.get("counted"):
        counted = around.counts.get(fact.payload["counted"], "?")
        text = _("Seen at %(place)s in the count of %(counted)s") if place else _("Not met in the count of %(counted)s")
        return text % {"place": place, "counted": counted}
    if fact.payload.get("seen") is False:
        return _("Home from then on: %(place)s") % {"place": place} if place else _("Has no home from then on")
    if place is None:
        return _("Moved, nobody knows where to")
    text = _("Moved to %(place)s, its home from then on") if fact.payload.get("home") else _("Moved to %(place)s")
    return text % {"place": place}


def _lent(fact: Fact, around: Around) -> str:
    until = fact.payload.get("until")
    return capital(lent(fact.payload.get("person", ""), date.fromisoformat(until) if until else None))


def _reading(fact: Fact, around: Around) -> str:
    return capital(readings.said(fact.payload, around.units))


_HEADS: dict[str, Callable[[Fact, Around], str]] = {
    "pull": _pull,
    "used": _used,
    "coat": _coat,
    "sealer": _sealer,
    "interval": _interval,
    "release_system": _release_system,
    "starting_state": _starting_state,
    "making": _making,
    "installed": _installed,
    "removed": _removed,
    "moved": _moved,
    "lent": _lent,
    "reading": _reading,
}


def _more(fact: Fact, around: Around, serial: bool) -> Iterator[str]:
    """Everything else that was written with the deed, one short sentence each."""
    known = fact.payload
    if fact.serial and serial:
        yield _("Serial %(serial)s.") % {"serial": fact.serial}
    if fact.part and fact.kind != "interval":
        yield _part(fact)
    if fact.earliest_pull:
        yield _("Not before %(time)s.") % {"time": moment(fact.earliest_pull, around.now, around.zone)}
    if fact.film is not None and fact.kind != "film":
        yield _("With a fresh film.") if fact.film else _("Without a film.")
    if fact.release_system and fact.kind != "release_system":
        yield _("Recipe %(recipe)s.") % {"recipe": fact.release_system}
    yield from _seen(fact, around)
    if fact.kind == "moved" and fact.payload.get("place") and fact.at in around.loans:
        yield handed_back_with_it(around.loans[fact.at])
    if fact.kind == "making":
        yield from worked(known, fact.count, around.units)
    if fact.kind in _MENDING:
        yield from _mended(known)
    if fact.kind == "repair" and stands_said(known):
        yield _("The filler stands %(stands)s.") % {"stands": stands_said(known)}
    if known.get("lot"):
        yield _("Lot %(lot)s.") % {"lot": known["lot"]}
    if known.get("cutter"):
        yield _("Cut with %(cutter)s.") % {"cutter": known["cutter"]}
    if known.get("metres"):
        yield _("%(far)s of cut.") % {"far": measure(Decimal(known["metres"]), "m", around.units)}
    if known.get("minutes"):
        yield _("%(minutes)s minutes.") % {"minutes": known["minutes"]}
    yield from _starting_counts(fact)
    if known.get("design_ref"):
        yield design(known)
    if fact.kind == "inspected" and known.get("evidence"):
        yield _("Looked at before it is accepted.")
    elif known.get("evidence"):
        yield _("Evidence: %(evidence)s.") % {"evidence": known["evidence"]}
    if known.get("instrument"):
        yield _with(fact.kind, known["instrument"])
    if fact.kind == "reading":
        yield from readings.further(known, fact.at, around.now, around.zone)
    yield from gone_through(known)
    if fact.kind in _FURTHER:
        yield from _FURTHER[fact.kind](fact, around)
    if known.get("defects"):
        yield from in_history(known["defects"], around.units, fact.kind)
    if known.get("note"):
        yield f"“{known['note']}”"


def _mended(known: Mapping[str, Any]) -> Iterator[str]:
    """How the surface was mended, and with what."""
    if known.get("method"):
        yield f"{capital(term(METHODS, known['method']))}."
    if known.get("material"):
        yield _("Material: %(material)s.") % {"material": known["material"]}


def design(known: Mapping[str, Any]) -> str:
    """What a tool was held against."""
    said = {"design": known["design_ref"], "revision": known.get("design_revision", "")}
    return (_("Design %(design)s, revision %(revision)s.") if said["revision"] else _("Design %(design)s.")) % said


def _part(fact: Fact) -> str:
    said = {"part": fact.part, "revision": fact.payload.get("revision", "")}
    return (_("Part %(part)s, revision %(revision)s.") if said["revision"] else _("Part %(part)s.")) % said


def _with(kind: str, what: str) -> str:
    """What it was cleaned with, how the release was tried, or the instrument of a reading."""
    if kind == "release_check" and what in RELEASE_TESTS:
        return f"{capital(term(RELEASE_TESTS, what))}."
    return _("With %(instrument)s.") % {
        "instrument": term(CLEANED_WITH, what) if kind not in ("reading", "check") else what
    }


def _seen(fact: Fact, around: Around) -> Iterator[str]:
    """What a hard or spoiled pull left behind, and why a coat went on."""
    known = fact.payload
    if known.get("fault"):
        yield _("Seen: %(fault)s.") % {"fault": term(FAULTS, known["fault"])}
    if known.get("surface"):
        yield _("Where: %(surface)s.") % {"surface": around.tools.get(known["surface"], "?")}
    if known.get("cause"):
        yield _("Cause: %(cause)s.") % {"cause": term(CAUSES, known["cause"])}
    if known.get("tool_damaged"):
        yield _("The tool is marked.")
    if known.get("part_damaged"):
        yield _("The part is marked.")
    if known.get("inserts_back") is not None:
        yield _("All mold inserts are back.") if known["inserts_back"] else _("Not all mold inserts are back.")
    if fact.kind in ("lay_up", "used"):
        yield from _all_the_same(known)
    elif known.get("reason"):
        yield _("Because %(reason)s.") % {"reason": term(COAT_REASONS, known["reason"])}


def _all_the_same(known: Mapping[str, Any]) -> Iterator[str]:
    """What stood against a lay-up, and why it was started."""
    if known.get("against"):
        yield _("What stood against it: %(against)s.") % {"against": against(known["against"])}
    if known.get("reason"):
        yield _("Started all the same: %(reason)s.") % {"reason": term(LAY_UP_REASONS, known["reason"])}


def _starting_counts(fact: Fact) -> Iterator[str]:
    known = fact.payload
    if known.get("total_pulls"):
        yield _("%(pulls)s before the record began.") % {"pulls": pulls(known["total_pulls"])}
    if known.get("touch_ups"):
        yield _("Touch-ups by then: %(count)d.") % {"count": known["touch_ups"]}
