"""A row of the morning board in words: its key figure, what the tool is about, what is said of it, and its deed."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta, tzinfo
from types import MappingProxyType
from typing import Any

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy, ngettext

from tooling.calc.groups import GROUPS
from tooling.calc.state import decode
from tooling.calc.status import Status
from tooling.words import places
from tooling.words.counting import capital, in_words
from tooling.words.deeds import COATS, FOUND, HAND_BACK, Deed, next_deeds, stands_out
from tooling.words.family import then_a_coat
from tooling.words.holds import and_more
from tooling.words.look_first import look_first
from tooling.words.measures import measure
from tooling.words.status import Dates, Sentence, making, not_accepted, sentence
from tooling.words.terms import KINDS, term
from tooling.words.when import Figure, day_figure, figure, when, whole_day, whole_minute


@dataclass(frozen=True, slots=True)
class Line:
    """One row. `deed` is done to `to`: an insert that decides, or the tool; `likely` where nothing but it is to do.

    `now` marks what waits for nothing. `pictures`: of what is said. `how`: a pull, to say how it came off. `put_back`:
    the home to which one tap puts it back. `step`: to which one tap takes it, where it is built.
    """

    row: Any
    key: Figure
    about: str
    status: str
    said: Sentence
    more: tuple[str, ...] = ()
    deed: Deed | None = None
    to: str = ""
    likely: bool = True
    now: bool = False
    pictures: tuple[Any, ...] = ()
    how: Any = None
    put_back: Any = None
    step: str = ""


@dataclass(frozen=True, slots=True)
class OnBoard:
    """A tool as the row of a line, where it is wanted for something else than its coats: without a tape."""

    tool: Any
    tape: None = None


@dataclass(frozen=True, slots=True)
class Around:
    """The moment and the zone in which lines are said."""

    now: datetime
    zone: tzinfo

    def figure(self, at: datetime, words: str) -> Figure:
        """A time as the key figure, with what it is the time of."""
        big, small = figure(at, self.now, self.zone)
        return Figure(big, ", ".join(word for word in (small, words) if word))

    def when(self, at: datetime) -> str:
        """A time in a sentence."""
        return when(at, self.now, self.zone)


NOT_KNOWN = "–"
NO_LIFT = gettext_lazy("No words for the lift yet: ask the lead.")


def said_of(
    row: Any, around: Around, dates: Dates | None = None, steps: Mapping[int, str] = MappingProxyType({})
) -> Sentence | None:
    """The state of a row as a sentence; a trim mask has one only where something stops its use.

    dates: how times are said on a sheet or in a file that is read on another day. steps: that of a tool in the making,
    by its key, where it is known better than by what was written as a step.
    """
    status: Status = row.status
    if row.summary.making and status.status not in ("held", "retired"):
        return making(steps.get(row.tool.pk, row.summary.step))
    if row.summary.accept_again and status.status not in ("held", "retired"):
        return not_accepted()
    if not row.tool.has_surface and status.status not in ("held", "retired"):
        return None
    return sentence(
        status, family=row.family, now=around.now, zone=around.zone, own=row.own, on=row.on, kind=row.tool.kind,
        dates=dates, held=row.deciding.summary.held_note if status.status == "held" else "",
    )  # fmt: skip


def about(row: Any, part: bool = False) -> str:
    """What it is, besides its name: its kind where the name does not say it and it is no mold; the part in it."""
    kind = term(KINDS, row.tool.kind)
    words = [] if row.tool.kind == "mold" or kind in row.tool.name.casefold() else [kind]
    if part:
        words += [row.summary.part] * bool(row.summary.part)
        words += [_("serial %(serial)s") % {"serial": row.summary.serial}] * bool(row.summary.serial)
    return " · ".join(words)


def in_mold(
    row: Any, around: Around, sets: Mapping[int, list[str]], of_parts: Mapping[int, tuple[str, ...]] | None = None
) -> Line:
    """A part is in it: when it may come out, and who laid it up.

    sets: in which other halves each part is as well. of_parts: what other apps say of it, by the key of the mold.
    """
    ready = row.status.ready_at
    up = ready is not None and ready <= around.now
    if ready is not None:
        key = around.figure(ready, _("time was up") if up else _("not before"))
    else:
        key = around.figure(row.summary.laid_up_at, _("laid up")) if row.summary.laid_up_at else Figure(NOT_KNOWN, "")
    with_it, of_part = one_part_with(sets.get(row.tool.pk, ())), (of_parts or {}).get(row.tool.pk, ())
    more = (with_it, laid_up(row.summary, around), lift(row.tool), *of_part)
    return _line(row, around, key, part=True, more=tuple(filter(None, more)), now=up)


def one_part_with(codes: Sequence[str]) -> str:
    """The other halves that a part is in."""
    return _("One part with %(codes)s.") % {"codes": ", ".join(codes)} if codes else ""


def laid_up(summary: Any, around: Around) -> str:
    """Since when a part is in it, and by whom."""
    if summary.laid_up_at is None:
        return ""
    said = {"when": around.when(summary.laid_up_at), "by": summary.laid_up_by}
    if summary.laid_up_by is None:
        return _("Lay-up started %(when)s.") % said
    return _("Lay-up started %(when)s by %(by)s.") % said


def part_in(summary: Any, kind: str = "mold") -> str:
    """The part that is in it, with its serial; what is on a plug becomes a mold as a rule, and is no part."""
    said = {"part": summary.part, "serial": summary.serial}
    if kind == "plug" and summary.part:
        return _("On the plug: %(part)s.") % said
    if summary.part and summary.serial:
        return _("Part %(part)s, serial %(serial)s.") % said
    if summary.part:
        return _("Part %(part)s.") % said
    return _("Serial %(serial)s.") % said if summary.serial else ""


def name_and_kind(tool: Any) -> str:
    """Sea kayak 520, plug; Hull, mold: its kind is said where its name does not end with it."""
    kind = term(KINDS, tool.kind)
    if tool.name.casefold().endswith(kind.casefold()):
        return str(tool.name)
    return _("%(name)s, %(kind)s") % {"name": tool.name, "kind": kind}


def lift(tool: Any) -> str:
    """The shop's own words for lifting it."""
    return _("Lift: %(words)s.") % {"words": tool.lift.rstrip(".")} if tool.lift else ""


def how_to_lift(tool: Any, system: str) -> str:
    """Mass and the shop's words for lifting, where it is about to be lifted."""
    words = lift(tool) or str(NO_LIFT)
    if tool.mass_kg is None:
        return words
    mass = measure(tool.mass_kg, "kg", system, tool.as_typed.get("mass_kg"))
    return _("Mass: %(mass)s. %(lift)s") % {"mass": mass, "lift": words}


def of_wanted(line: Line, around: Around, wanted: Mapping[int, Any]) -> Line:
    """The row of a tool that a wanted part needs: it says so, and gives the time of the whole set where that waits.

    wanted: such tools by their keys, and when the whole set of each can be laid up.
    """
    key = line.row.tool.pk
    if key not in wanted:
        return line
    line = replace(line, about=" · ".join(filter(None, (line.about, _("wanted today")))))
    of_set = wanted[key]
    if of_set is None or line.row.status.status not in GROUPS["wax"]:
        return line
    starts = of_set.starts_at
    if starts is None or starts <= around.now:
        words = _("if started now")
    else:
        words = _("if started %(when)s") % {"when": around.when(starts)}
    return replace(line, key=around.figure(whole_minute(of_set.lay_up_at), words))


def ready(row: Any, around: Around) -> Line:
    """It can be laid up: how many pulls are left."""
    left = row.status.pulls_left
    if row.status.status == "last_pull":
        small = _("last pull")
    else:
        text = ngettext("pull, %(then)s", "pulls, %(then)s", left)
        small = text % {"then": then_a_coat(row.family)}
    return _line(row, around, Figure(str(left), small), more=(*inserts(row), *_look(row, around)))


def _look(row: Any, around: Around) -> tuple[str, ...]:
    """Where somebody is to look first."""
    words = look_first(row, around.now.astimezone(around.zone).date())
    return (words,) if words else ()


def inserts(row: Any) -> tuple[str, ...]:
    """How many mold inserts are in it, and which of them has fewer pulls left than the mold."""
    count = len(row.inside)
    if not count:
        return ()
    text = ngettext("%(count)s mold insert in it.", "%(count)s mold inserts in it.", count)
    said = [capital(text % {"count": in_words(count)})]
    if row.fewest is not None and not row.on:
        said.append(_("%(code)s has the fewest pulls left.") % {"code": row.fewest.tool.code})
    return tuple(said)


def soon(row: Any, around: Around) -> Line:
    """Only time or a film is missing."""
    if row.status.status == "needs_film":
        return _line(row, around, _if_started(row, around), more=_look(row, around))
    at = row.status.ready_at or around.now
    return _line(row, around, around.figure(whole_minute(at), _("can be laid up")), more=_look(row, around))


def wax(row: Any, around: Around) -> Line:
    """A coat or a strip comes first: when it would be ready if that began now."""
    return _line(row, around, _if_started(row, around), more=_look(row, around))


def _if_started(row: Any, around: Around) -> Figure:
    at = row.ready_if_started(around.now)
    if at is None:
        return Figure(NOT_KNOWN, _("no recipe") if "no_release_system" in row.status.why else "")
    return around.figure(whole_minute(at), _("if started now"))


def held(row: Any, around: Around, holds: Mapping[int, list[Any]], pictures: Mapping[int, list[Any]]) -> Line:
    """Not to be used until somebody has looked: since when, by whom, on what. holds: what holds each tool.

    pictures: those of each hold, by its key; a row shows the first.
    """
    on = row.deciding.summary
    entries = holds.get(row.deciding.tool.pk, [])
    words = and_more(entries)
    first = tuple(one for entry in entries for one in pictures.get(entry.pk, ()))[:1]
    if on.held_since is None:
        key = Figure(NOT_KNOWN, "")
    else:
        key = around.figure(on.held_since, _("by %(name)s") % {"name": on.held_by} if on.held_by else "")
    return replace(_line(row, around, key, more=(words,) if words else ()), pictures=first)


def not_home(row: Any, around: Around) -> Line:
    """Elsewhere than where it belongs, lent, or lost, and not in use. What is lent and not back says since when."""
    summary, today = row.summary, around.now.astimezone(around.zone).date()
    home = _("Home is %(place)s.") % {"place": summary.home.name} if summary.home is not None else _("It has no home.")
    if summary.lent:
        return _lent_out(row, around, today, home)
    since = _("last seen") if summary.seen_place is not None else _("moved")
    if summary.seen_place is not None:
        lies = _("Last seen at %(place)s") % {"place": summary.seen_place.name}
    else:
        lies = capital(places.lies(summary))
    line = Line(row, around.figure(summary.seen_at, since), about(row), "", Sentence(lies), (home,))
    if summary.seen_place is None:  # nobody puts back what nobody has found
        return replace(line, deed=FOUND, to=row.tool.code, likely=False)
    return replace(line, put_back=summary.home)


def _lent_out(row: Any, around: Around, today: date, home: str) -> Line:
    summary, late = row.summary, places.not_back(row.summary, today)
    key, said = around.figure(summary.seen_at, _("lent")), Sentence(capital(places.lies(summary, today)))
    if late:
        key = Figure(day_figure(summary.lent_until, today), _("was to be back"))
        since = _("Not back since %(day)s") % {"day": whole_day(summary.lent_until, today)}
        said = Sentence(since, places.lent(summary.lent_to, None))
    return Line(row, key, about(row), "", said, (home,), deed=HAND_BACK, to=row.tool.code, likely=late, now=late)


# What an insert wants is done to the insert; everything else to the tool that it is in.
_ON_THE_INSERT = frozenset({"held", "needs_strip", "not_prepared", "preparing", "needs_touch_up", "needs_film"})


def next_for(row: Any, now: datetime) -> tuple[Any, tuple[Deed, ...], bool]:
    """The tool that the next deeds are done to, those deeds, and whether the likeliest stands out."""
    to = row.deciding if row.status.status in _ON_THE_INSERT and row.on else row
    status = row.status if to is row else to.own
    making_it = row.summary.making
    deeds = next_deeds(status, kind=to.tool.kind, making=making_it)
    likely = stands_out(status, now) and not making_it and not (deeds[:1] == (COATS,) and _too_soon(row.deciding, now))
    return to.tool, deeds, likely


def _too_soon(one: Any, now: datetime) -> bool:
    """Whether the coat that is on has to wait before the next."""
    last = decode(one.summary.state).gap_from
    if one.recipe is None or last is None:
        return False
    return last + timedelta(minutes=float(one.recipe.coat_gap_minutes)) > now


def _line(
    row: Any, around: Around, key: Figure, *, part: bool = False, more: tuple[str, ...] = (), now: bool = False
) -> Line:
    to, deeds, likely = next_for(row, around.now)
    return Line(
        row=row,
        key=key,
        about=about(row, part),
        status=row.status.status,
        said=said_of(row, around) or Sentence(""),
        more=more,
        deed=deeds[0] if deeds else None,
        to=to.code,
        likely=likely,
        now=now,
    )
