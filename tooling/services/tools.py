"""A tool's record: opened with the tool, and laid anew when a recipe or the shop's zone changes."""

from collections.abc import Iterable
from typing import Any

from django.db import transaction
from django.db.models import Case, Value, When

from shared import clock
from tooling.calc.spans import Member, Timeline
from tooling.calc.state import State, decode
from tooling.models import Kind, Shop, Summary, Tool
from tooling.selectors.batches import family_batches
from tooling.selectors.history import History, ever_installed, system_code
from tooling.selectors.recipes import recipe_book
from tooling.services import defects, look_overs, serials
from tooling.services.absorb import EVER, Rules, refold
from tooling.services.saving import save
from tooling.services.search import keep
from tooling.services.summaries import keep_state, lay_spans
from tooling.services.tags import wanted
from tooling.services.whereabouts import keep_facts, standing

_INSERTS_LAST = Case(When(tool__kind=Kind.INSERT, then=Value(1)), default=Value(0))


@transaction.atomic
def add_tool(**fields: Any) -> Tool:
    """A new tool, checked, with an empty history. Raises ValidationError by field."""
    tool = Tool(**fields)
    save(tool)
    open_record(tool, rules())
    return tool


def rules() -> Rules:
    """The shop's recipes, zone and formal records as of now."""
    shop = Shop.current()
    return Rules(recipe_book(), shop.zone, clock.now(), shop.formal_since)


def open_record(tool: Tool, by: Rules) -> Summary:
    """The summary, spans, words and the wish for a tag of a tool with an empty history."""
    summary = Summary(tool=tool, home=tool.place, making=tool.in_making)
    state = State(system=system_code(tool))
    keep_state(summary, state, None)
    lay_spans(summary, Timeline(tool.pk, ((by.now, state),)), [], by)
    look_overs.keep([summary], by.zone)
    summary.save(force_insert=True)
    keep([tool.pk])
    wanted.keep([tool.pk])
    return summary


@transaction.atomic
def lay_anew(tools: Iterable[int]) -> None:
    """Lays the spans of these tools and their families anew from their stored states: for a change of the future.

    Only a family with an entry ahead of the clock is folded again.
    """
    by = rules()
    for batch in family_batches(tools):
        locked = _locked(batch)
        ahead = any(summary.last_at is not None and summary.last_at > by.now for summary in locked)
        if ahead:
            _refold(batch, locked, by)
            continue
        states = {summary.tool_id: decode(summary.state) for summary in locked}
        lines = {tool: Timeline(tool, ((by.now, state),)) for tool, state in states.items()}
        for summary in locked:
            inside = [one for one in locked if one.in_mold_of_id == summary.tool_id]
            members = [Member(lines[one.tool_id], EVER) for one in sorted(inside, key=lambda one: one.tool.code)]
            lay_spans(summary, lines[summary.tool_id], members, by)


@transaction.atomic
def relay(tools: Iterable[int] | None = None) -> int:
    """Folds these tools and their families (None: all) again, and lays what follows from them down anew.

    Returns how many tools that were.
    """
    by, done = rules(), 0
    for batch in family_batches(tools):
        done += _refold(batch, _locked(batch), by)
    return done


def _locked(batch: list[Tool]) -> list[Summary]:
    """The summaries of a batch, in the order in which deeds lock: molds before inserts."""
    summaries = Summary.objects.filter(tool__in=batch).select_related("tool__release_system")
    return list(summaries.select_for_update(of=("self",)).order_by(_INSERTS_LAST, "tool_id"))


def _refold(batch: list[Tool], locked: list[Summary], by: Rules) -> int:
    """Reads the histories only behind the locks, so that no deed comes in between."""
    history = History(by.book, by.zone)
    history.read(tool.pk for tool in batch)
    inserts_of = ever_installed(tool.pk for tool in batch if tool.kind in Kind.TAKES_INSERTS)
    facts = standing(tool.pk for tool in batch)
    open_defects = defects.lay_anew(tool.pk for tool in batch)
    look_overs.keep(locked, by.zone)
    for summary in locked:
        keep_facts(summary, facts.get(summary.tool_id, ()), by.formal_since)
        summary.open_defects = open_defects.get(summary.tool_id, 0)
        refold(summary, history, inserts_of.get(summary.tool_id, []), by)
        summary.save()
    keep(summary.tool_id for summary in locked)
    serials.lay_anew(summary.tool_id for summary in locked)
    wanted.keep(summary.tool_id for summary in locked)
    return len(locked)
