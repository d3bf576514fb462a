"""The list of tools: those with some words in one order, a page at a time; and codes that look like a mistyped one."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from difflib import get_close_matches

from django.db.models import Q, QuerySet

from tooling.models import Tool, tidy_code
from tooling.selectors import paging, scans
from tooling.selectors.find import Words, phrased, with_words, words_in
from tooling.selectors.rows import Row, rows, shown

# Codes that a mistyped one is compared with, and how many of them are offered.
_COMPARED, OFFERED = 2000, 5


@dataclass(frozen=True, slots=True)
class Found:
    """A page of the tools that were looked for. `loosely`: only with 0 and O alike there were any."""

    rows: list[Row]
    count: int
    before: str
    after: str
    loosely: bool

    @property
    def many(self) -> bool:
        """Whether there are more than are counted."""
        return self.count > paging.COUNTED


@dataclass(frozen=True, slots=True)
class Sought:
    """The keys of the tools on a page in order, how many there are, and where the pages beside it begin."""

    keys: list[int]
    count: int
    before: str
    after: str
    loosely: bool


def look(
    tools: QuerySet[Tool],
    text: str,
    at: datetime,
    *,
    order: str = "code",
    size: int = 50,
    after: str = "",
    before: str = "",
) -> Found:
    """A page of those of the tools that have the words of the text."""
    page = sought(tools, text, at, order=order, size=size, after=after, before=before)
    return Found(rows_of(page.keys, at), page.count, page.before, page.after, page.loosely)


def sought(
    tools: QuerySet[Tool], text: str, at: datetime, *, order: str, size: int, after: str = "", before: str = ""
) -> Sought:
    """Which tools stand on the page; in the order of codes, the one with that very code first."""
    words = words_in(text)
    asked = Words(_as_meant(tools, words))
    matches = asked.within(tools) if asked.words or not text.strip() else tools.none()
    first = scans.tool(text) if text and order == "code" else None
    if first is not None and matches.filter(pk=first.pk).exists():
        rest = matches.exclude(pk=first.pk)
    else:
        rest, first = matches, None
    page = paging.page(rest, order, at, size, after, before)
    if asked.words and not page.tools and first is None:
        asked = Words(words, loosely=True)
        matches = asked.within(tools)
        page = paging.page(matches, order, at, size, after, before)
    keys = [first.pk, *page.tools] if first is not None and not page.before else page.tools
    count = asked.count(tools) if asked.words else paging.counted(matches)
    return Sought(keys, count, page.before, page.after, asked.loosely)


def matching(tools: QuerySet[Tool], text: str) -> QuerySet[Tool]:
    """Those of the tools that have the words of the text; where none has, those that have them with 0 and O alike."""
    words = words_in(text)
    if text.strip() and not words:
        return tools.none()
    strictly = with_words(tools, _as_meant(tools, words))
    return strictly if not words or strictly.exists() else with_words(tools, words, loosely=True)


def _as_meant(tools: QuerySet[Tool], words: list[str]) -> list[str]:
    """The words as they stand together in a name, where one of the tools has them so."""
    told = phrased(words)
    return told if told != words and with_words(tools, told).exists() else words


def rows_of(keys: list[int], at: datetime) -> list[Row]:
    """The rows of these tools in this order, in three queries."""
    found = {row.tool.pk: row for row in rows(shown().at(at).filter(tool__in=keys), at)}
    return [found[key] for key in keys if key in found]


def every(tools: QuerySet[Tool], order: str, at: datetime, size: int = 200) -> Iterator[Row]:
    """The rows of all these tools, read piece by piece."""
    after = ""
    while True:
        page = paging.page(tools, order, at, size, after)
        yield from rows_of(page.tools, at)
        if not page.after:
            return
        after = page.after


def near(code: str) -> list[Tool]:
    """Tools whose code is nearly the one that was asked for, the nearest first."""
    code = tidy_code(code)[:100]
    alike = {code, code.replace("0", "O"), code.replace("O", "0")}
    starts = Q()
    for one in alike:
        starts |= Q(code__startswith=one[:2]) | Q(code__endswith=one[-2:])
    known = Tool.objects.filter(starts).order_by("code").values_list("code", flat=True)[:_COMPARED]
    by_fold = {bare_code(one): one for one in known}
    found = [by_fold[one] for one in get_close_matches(bare_code(code), by_fold, n=OFFERED)]
    tools = Tool.objects.in_bulk(found, field_name="code")
    return [tools[one] for one in found]


def bare_code(code: str) -> str:
    """A code without what is mistaken most: the signs between, and 0 for O."""
    return code.replace("-", "").replace(".", "").replace("0", "O").replace("1", "I")
