"""A tool's record: opened with the tool, and laid anew when a recipe or the shop's zone changes."""

from collections.abc import Iterable
from typing import Any

from django.db import transaction

from shared import clock
from tooling.calc.spans import Timeline
from tooling.calc.state import State
from tooling.models import Kind, Shop, Summary, Tool
from tooling.selectors.history import History, ever_installed, system_code
from tooling.selectors.recipes import recipe_book
from tooling.services.absorb import Rules, refold
from tooling.services.summaries import keep_state, lay_spans


@transaction.atomic
def add_tool(**fields: Any) -> Tool:
    """A new tool, checked, with an empty history. Raises ValidationError by field."""
    tool = Tool(**fields)
    tool.full_clean()
    tool.save()
    open_record(tool, rules())
    return tool


def rules() -> Rules:
    """The shop's recipes and zone as of now."""
    return Rules(recipe_book(), Shop.current().zone, clock.now())


def open_record(tool: Tool, by: Rules) -> Summary:
    """The summary and spans of a tool with an empty history."""
    summary = Summary(tool=tool, home=tool.place, making=tool.in_making)
    state = State(system=system_code(tool))
    keep_state(summary, state, None)
    lay_spans(summary, Timeline(tool.pk, ((by.now, state),)), [], by)
    summary.save(force_insert=True)
    return summary


@transaction.atomic
def relay(tools: Iterable[Tool] | None = None) -> int:
    """Folds these tools (None: all) again and lays summaries, flags and spans down anew; returns how many."""
    chosen = Tool.objects.all() if tools is None else Tool.objects.filter(pk__in=[tool.pk for tool in tools])
    by = rules()
    inserts_of = ever_installed(Tool.objects.filter(kind=Kind.MOLD).values_list("pk", flat=True))
    done = 0
    summaries = Summary.objects.filter(tool__in=chosen).select_related("tool__release_system")
    for summary in summaries.select_for_update(of=("self",)).order_by("tool_id").iterator(chunk_size=200):
        # A history of its own for each tool: memory stays flat, whatever the shop's size.
        refold(summary, History(by.book, by.zone), inserts_of.get(summary.tool_id, []), by)
        summary.save()
        done += 1
    return done
