"""What follows from a new entry: states, flags, spans and the columns of lists.

An entry behind all others is one step of the stored states. A late entry, a void, a correction and a starting state
fold the family's histories again.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import UTC, datetime, tzinfo

from tooling.calc.entry import INSERT_KINDS, RELEASE_KINDS, USE_KINDS
from tooling.calc.entry import Entry as Fact
from tooling.calc.fold import Folded, advance
from tooling.calc.recipe import RecipeBook
from tooling.calc.spans import Member, Timeline
from tooling.calc.state import State, decode, instant
from tooling.models import Entry, Flag, Kind, Summary, Tool
from tooling.selectors.history import History, ever_installed, system_code
from tooling.services import look_overs
from tooling.services.families import Family
from tooling.services.summaries import keep_state, lay_spans

_BEGINNING = datetime.min.replace(tzinfo=UTC)
# On the fast way an insert counts as in its mold since ever: the span begins now, and it is in now.
EVER = ((_BEGINNING, None),)
_BEARING = RELEASE_KINDS | INSERT_KINDS


@dataclass(frozen=True)
class Rules:
    """What every fold needs besides the entries."""

    book: RecipeBook
    zone: tzinfo
    now: datetime
    # since when the shop keeps formal records; None: it keeps none
    formal_since: datetime | None = None


def absorb(family: Family, entry: Fact, rules: Rules) -> list[Summary]:
    """Brings states, flags, spans and lists of the family up to date with an entry that was just written.

    Returns the summaries that changed; the caller saves them.
    """
    if entry.kind not in _BEARING and entry.replaces is None and entry.voids is None:
        look_overs.step_beside(family.tool, entry, rules.zone)
        return []
    return _step(family, entry, rules) if is_next(family, entry, rules.now) else fold_again(family, rules)


def is_next(family: Family, entry: Fact, now: datetime) -> bool:
    """True where the entry comes after all that its family has seen, and nothing lies ahead of the clock."""
    if entry.kind == "starting_state" or entry.replaces is not None or entry.voids is not None or entry.at > now:
        return False
    seen = max((one.last_at for one in family.all().values() if one.last_at is not None), default=_BEGINNING)
    if entry.kind in INSERT_KINDS:
        return seen < entry.at  # one of the same instant is reached by it, or no longer
    return seen <= min(entry.at, now) and not (entry.kind in USE_KINDS and _left_since_lay_up(family))


def _left_since_lay_up(family: Family) -> bool:
    """True where an insert may have been in the mold at an open lay-up and is not now: only the histories know."""
    open_lay_ups = family.tool.state.get("open_lay_ups")
    out = [key for key, one in family.inserts.items() if one.in_mold_of_id != family.tool.tool_id]
    if not open_lay_ups or not out or family.tool.tool.kind not in Kind.TAKES_INSERTS:
        return False
    left = Entry.objects.filter(tool__in=out, kind__in=INSERT_KINDS, at__gt=instant(min(open_lay_ups)))
    return left.exists()


def _step(family: Family, entry: Fact, rules: Rules) -> list[Summary]:
    touched, above = [family.tool], _molds_above(family)
    if entry.kind in USE_KINDS and family.tool.tool.kind == Kind.MOLD:
        touched += family.installed(family.tool.tool_id)
    states = {}
    for summary in touched:
        look_overs.step(summary, entry, rules.zone)
        folded = _advanced(summary, entry, rules)
        states[summary.tool_id] = folded.state
        keep_state(summary, folded.state, (entry.at, entry.id))
        _add_flags(summary.tool_id, folded.flags)
    if entry.kind in INSERT_KINDS:
        family.tool.in_mold_of_id = entry.mold if entry.kind == "installed" else None  # type: ignore[assignment]
        above = list({one.tool_id: one for one in (*above, *_molds_above(family))}.values())
    changed = [*touched, *above]
    for summary in changed:
        members = [_member(one, states, rules.now) for one in family.installed(summary.tool_id)]
        lay_spans(summary, Timeline(summary.tool_id, ((rules.now, _state(summary, states)),)), members, rules)
    return changed


def _molds_above(family: Family) -> list[Summary]:
    """The mold that the deed's insert is in: its state has the insert's in it."""
    above = family.molds.get(family.tool.in_mold_of_id or 0)
    return [above] if above is not None else []


def _advanced(summary: Summary, entry: Fact, rules: Rules) -> Folded:
    return advance(decode(summary.state), [entry], summary.tool_id, system_code(summary.tool), rules.book, rules.zone)


def _state(summary: Summary, states: dict[int, State]) -> State:
    return states.get(summary.tool_id) or decode(summary.state)


def _member(insert: Summary, states: dict[int, State], now: datetime) -> Member:
    return Member(Timeline(insert.tool_id, ((now, _state(insert, states)),)), EVER)


def _add_flags(surface: int, flags: Iterable[tuple[int, str]]) -> None:
    rows = [Flag(entry_id=number, surface_id=surface, flag=flag) for number, flag in flags]
    if rows:
        Flag.objects.bulk_create(rows)


def fold_again(family: Family, rules: Rules) -> list[Summary]:
    """Folds every locked tool of the family from its whole history, and lays its spans anew."""
    history = History(rules.book, rules.zone)
    locked = {**family.molds, **family.inserts, family.tool.tool_id: family.tool}
    history.read([*locked, *family.beside])
    inserts_of = ever_installed(family.molds)
    for summary in locked.values():
        refold(summary, history, inserts_of.get(summary.tool_id, []), rules)
    look_overs.keep(locked.values(), rules.zone)
    return list(locked.values())


def refold(summary: Summary, history: History, inserts: Iterable[Tool], rules: Rules) -> None:
    """Sets one tool's summary, flags and spans from its whole history; the caller saves the summary."""
    tool = summary.tool
    keep_history(summary, history)
    Flag.objects.filter(surface=tool).delete()
    _add_flags(tool.pk, history.folded(tool).flags)
    members = [history.member(insert, tool.pk, rules.now) for insert in inserts]
    lay_spans(summary, history.timeline(tool, rules.now), members, rules)


def keep_history(summary: Summary, history: History) -> None:
    """Sets of a summary what the tool's whole history says: its state, the last key, and the mold that it is in."""
    tool = summary.tool
    sequence = [placed for placed in history.sequence(tool) if placed[2].kind in _BEARING]
    keep_state(summary, history.folded(tool).state, sequence[-1][:2] if sequence else None)
    if tool.kind == Kind.INSERT:
        times = history.stays(tool.pk)
        last = times[-1] if times and times[-1].until is None else None
        summary.in_mold_of_id = last.mold if last else None  # type: ignore[assignment]
