"""Everything that is stored beside the entries, worked out again from them: it must come out the same."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Any

from django.utils.translation import gettext as _

from tooling.calc.spans import spans
from tooling.models import Entry, Flag, Kind, SearchText, Span, Summary, TagPrint, Tool
from tooling.selectors.batches import family_batches
from tooling.selectors.history import History, ever_installed
from tooling.selectors.look_overs import AFTER_ALL, LookOver, look_overs
from tooling.selectors.tag_facts import facts, why
from tooling.services.absorb import Rules, keep_history
from tooling.services.findings import Finding
from tooling.services.search import texts
from tooling.services.serials import Indexed, wanted_and_there
from tooling.services.summaries import row
from tooling.services.whereabouts import keep_facts, standing

# What the fold sets in a summary. The chain's columns are checked with the chain.
_FOLDED = (
    "last_at", "last_key", "state", "in_mold_of_id", "total_pulls", "since_coat", "total_coats", "last_used_at",
    "home_id", "seen_place_id", "seen_at", "lent", "lent_to", "lent_until", "making", "step", "step_at", "held_since",
    "held_by_id", "held_note", "retired", "accept_again", "part", "serial", "laid_up_at", "laid_up_by_id",
    "look_left", "look_on",
)  # fmt: skip
_SPAN = ("rank", "status", "from_at", "until_at", "pulls_left", "ready_at", "detail", "group", "group_at")


@dataclass(frozen=True)
class _Stored:
    """What is stored of a batch of tools, read in a few queries."""

    summaries: dict[int, Summary]
    spans: dict[int, list[Span]]
    flags: dict[int, set[tuple[int, str]]]
    facts: dict[int, list[Entry]]
    inserts: dict[int, list[Tool]]
    words: dict[int, tuple[str, str]]
    words_wanted: dict[int, tuple[str, str]]
    tags: dict[int, TagPrint]
    on_tags: dict[int, dict[str, str]]
    serials: dict[int, tuple[set[Indexed], set[Indexed]]]
    look_overs: dict[int, LookOver]


def differences(rules: Rules, tools: Iterable[int] | None = None) -> Iterator[Finding]:
    """Every tool (None: all) whose summary, flags, spans, words or tag are not what its history says."""
    for batch in family_batches(tools):
        stored = _stored(batch, rules)
        history = History(rules.book, rules.zone)
        history.read(tool.pk for tool in batch)
        for tool in batch:
            try:
                yield from _differences(tool, stored, history, rules)
            except (ValueError, KeyError, TypeError) as broken:
                yield Finding(tool.code, None, _("the history cannot be folded: %(why)s") % {"why": broken})


def _stored(batch: list[Tool], rules: Rules) -> _Stored:
    keys = [tool.pk for tool in batch]
    laid: dict[int, list[Span]] = {}
    for span in Span.objects.filter(tool__in=keys).order_by("from_at"):
        laid.setdefault(span.tool_id, []).append(span)
    flags: dict[int, set[tuple[int, str]]] = {}
    for surface, entry, flag in Flag.objects.filter(surface__in=keys).values_list("surface_id", "entry_id", "flag"):
        flags.setdefault(surface, set()).add((entry, flag))
    summaries = {one.tool_id: one for one in Summary.objects.filter(tool__in=keys)}
    molds = [tool.pk for tool in batch if tool.kind in Kind.TAKES_INSERTS]
    words = {one.tool_id: (one.text, one.codes) for one in SearchText.objects.filter(tool__in=keys)}
    wanted = {one.tool_id: (one.text, one.codes) for one in texts(keys)}
    tags = {one.tool_id: one for one in TagPrint.objects.filter(tool__in=keys)}
    # Nothing is compared with what stands on the others.
    said = facts((pk for pk, one in tags.items() if one.printed_at is not None and pk in summaries), rules.now)
    serials = wanted_and_there(keys)
    looks = look_overs(batch, AFTER_ALL, rules.zone)
    return _Stored(
        summaries, laid, flags, standing(keys), ever_installed(molds), words, wanted, tags, said, serials, looks
    )


def _differences(tool: Tool, stored: _Stored, history: History, rules: Rules) -> Iterator[Finding]:
    summary = stored.summaries.get(tool.pk)
    if summary is None:
        yield Finding(tool.code, None, _("has no summary"))
        return
    again = _summary_again(tool, stored, history, rules)
    for name, (is_there, wanted) in _summary_differences(summary, again).items():
        what = _("the summary says %(name)s %(there)s, the history %(wanted)s")
        yield Finding(tool.code, None, what % {"name": name, "there": is_there, "wanted": wanted})
    yield from _flag_differences(tool, stored, history)
    if _laid(stored.spans.get(tool.pk, [])) != _laid(_spans_again(again, stored, history, rules)):
        yield Finding(tool.code, None, _("the spans are not what the history says"))
    if stored.words.get(tool.pk) != stored.words_wanted.get(tool.pk):
        yield Finding(tool.code, None, _("the search does not know all its words"))
    named, indexed = stored.serials[tool.pk]
    if named != indexed:
        yield Finding(tool.code, None, _("the index of serial numbers is not what the history says"))
    tag = stored.tags.get(tool.pk)
    if tag is not None and tag.wanted != why(tag, stored.on_tags.get(tool.pk, {})):
        yield Finding(tool.code, None, _("the list of tags to print does not know how it stands"))


def _summary_again(tool: Tool, stored: _Stored, history: History, rules: Rules) -> Summary:
    again = Summary(tool=tool)
    keep_history(again, history)
    keep_facts(again, stored.facts.get(tool.pk, ()), rules.formal_since)
    if (found := stored.look_overs.get(tool.pk)) is not None:
        again.look_left, again.look_on = found.pulls, found.day
    return again


def _summary_differences(summary: Summary, again: Summary) -> dict[str, tuple[Any, Any]]:
    pairs = {name: (getattr(summary, name), getattr(again, name)) for name in _FOLDED}
    return {name: pair for name, pair in pairs.items() if pair[0] != pair[1]}


def _flag_differences(tool: Tool, stored: _Stored, history: History) -> Iterator[Finding]:
    there, wanted = stored.flags.get(tool.pk, set()), set(history.folded(tool).flags)
    numbers = dict(Entry.objects.filter(pk__in={pk for pk, _ in there ^ wanted}).values_list("pk", "number"))
    for pk, flag in sorted(there - wanted):
        yield Finding(tool.code, numbers.get(pk), _("is flagged %(flag)s for no reason") % {"flag": flag})
    for pk, flag in sorted(wanted - there):
        yield Finding(tool.code, numbers.get(pk), _("lacks the flag %(flag)s") % {"flag": flag})


def _spans_again(summary: Summary, stored: _Stored, history: History, rules: Rules) -> list[Span]:
    tool, there = summary.tool, stored.spans.get(summary.tool_id)
    since = there[0].from_at if there else rules.now
    members = [history.member(insert, tool.pk, since) for insert in stored.inserts.get(tool.pk, ())]
    return [row(summary, one) for one in spans(history.timeline(tool, since), members, rules.book, rules.zone, since)]


def _laid(rows: Iterable[Span]) -> list[tuple[Any, ...]]:
    return [tuple(getattr(one, name) for name in _SPAN) for one in rows]
