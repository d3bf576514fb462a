"""Tools by their code, by an old code, or by words of their name."""

from datetime import datetime
from difflib import get_close_matches

from django.db.models import Case, Exists, OuterRef, Q, QuerySet, Value, When

from tooling.models import Span, Tool, ToolAlias, tidy_code
from tooling.selectors.rows import shown

# Codes that a mistyped one is compared with, and how many of them are offered.
_COMPARED, _OFFERED = 2000, 5


def listed(at: datetime, words: str = "") -> QuerySet[Span]:
    """The spans that hold now of all tools that have each word in code, old code or name; the exact code first."""
    spans = shown(Span.objects.at(at), places=True)
    for word in words.split():
        old = ToolAlias.objects.filter(tool=OuterRef("tool"), code__icontains=word)
        spans = spans.filter(Q(tool__code__icontains=word) | Q(tool__name__icontains=word) | Exists(old))
    if not words.strip():
        # By code alone the index of codes gives a page without sorting the shop.
        return spans.order_by("tool__code")
    exact = Case(When(tool__code=tidy_code(words), then=Value(0)), default=Value(1))
    return spans.order_by(exact, "tool__code")


def near(code: str) -> list[Tool]:
    """Tools whose code is nearly the one that was asked for, the nearest first."""
    code = tidy_code(code)[:100]
    alike = {code, code.replace("0", "O"), code.replace("O", "0")}
    starts = Q()
    for one in alike:
        starts |= Q(code__startswith=one[:2]) | Q(code__endswith=one[-2:])
    known = Tool.objects.filter(starts).order_by("code").values_list("code", flat=True)[:_COMPARED]
    by_fold = {_folded(one): one for one in known}
    found = [by_fold[one] for one in get_close_matches(_folded(code), by_fold, n=_OFFERED)]
    tools = Tool.objects.in_bulk(found, field_name="code")
    return [tools[one] for one in found]


def _folded(code: str) -> str:
    """A code without what is mistaken most: the signs between, and 0 for O."""
    return code.replace("-", "").replace(".", "").replace("0", "O").replace("1", "I")
