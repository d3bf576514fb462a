"""A mold whose other half is not in the tool set of the part, or is out of use."""

from collections import defaultdict
from collections.abc import Iterator

from tooling.models import Kind, Tool
from tooling.selectors.usable.asked import Asked
from tooling.selectors.usable.reason import LEAD, Reason
from tooling.words.usable_set import add_half, half_missing, half_out_of_use, make_half


def reasons(asked: Asked) -> Iterator[tuple[int, Reason]]:
    """Molds of the set. A half that is in it speaks for itself."""
    matched = [tool for tool in asked.tools if tool.matched_set and tool.kind == Kind.MOLD and tool.pk in asked.lines]
    if not matched:
        return
    others: dict[str, list[Tool]] = defaultdict(list)
    names = {tool.matched_set for tool in matched}
    found = Tool.objects.filter(kind=Kind.MOLD, matched_set__in=names).select_related("summary").order_by()
    for one in sorted(found, key=lambda tool: tool.code):
        others[one.matched_set].append(one)
    for tool in matched:
        rest = [one for one in others[tool.matched_set] if one.pk != tool.pk]
        missing = _missing(rest, asked)
        if not rest or (not missing and any(one.pk in asked.lines for one in rest)):
            continue
        codes = [one.code for one in missing or rest]
        text = half_missing(codes, asked.part) if missing else half_out_of_use(codes)
        yield (
            tool.pk,
            Reason("half_missing", tool.code, text, add_half(codes) if missing else make_half(), override=LEAD),
        )


def _missing(rest: list[Tool], asked: Asked) -> list[Tool]:
    """The halves in use that are not in the set."""
    in_use = (one for one in rest if not one.summary.retired and not one.summary.making)
    return [one for one in in_use if one.pk not in asked.lines]
