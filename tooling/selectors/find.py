"""Tools by their words, wherever these stand: in codes, names, part numbers, places, owner or notes."""

from collections.abc import Iterable, Sequence
from difflib import get_close_matches

from django.db import connections
from django.db.models import Q, QuerySet
from django.db.models.expressions import RawSQL

from tooling.models import SearchText, Tool
from tooling.models.search import alike, split
from tooling.models.search_index import FTS

# Rows that a mistyped word is compared with, and how many spellings of it are offered.
_COMPARED, _OFFERED = 200, 3
_TRIGRAM = 3


def with_words(tools: QuerySet[Tool], words: Sequence[str], loosely: bool = False) -> QuerySet[Tool]:
    """Those that have each folded word; a word of one or two letters stands at a beginning.

    `loosely`: in codes and part numbers 0 and O are alike, and two letters may stand anywhere in them.
    """
    if not words:
        return tools
    if connections[tools.db].vendor != "sqlite":
        every = Q(*(_contained(word, loosely) for word in words))
        return tools.filter(pk__in=SearchText.objects.filter(every).values("pk"))
    short = [word for word in words if loosely and len(word) < _TRIGRAM]
    asked = " AND ".join(_phrase(word, loosely) for word in words if word not in short)
    if asked:
        tools = tools.filter(pk__in=_matched(asked))
    if short:
        every = Q(*(_contained(word, loosely) for word in short))
        tools = tools.filter(pk__in=SearchText.objects.filter(every).values("pk"))
    return tools


def _begun(word: str) -> str:
    """What of a word is looked for: the two spaces before it make a trigram of one letter."""
    return word if len(word) >= _TRIGRAM else f"  {word}"


def _contained(word: str, loosely: bool) -> Q:
    found = Q(text__contains=_begun(word))
    return found | Q(codes__contains=alike(word)) if loosely else found


def _quoted(text: str) -> str:
    return '"' + text.replace('"', '""') + '"'


def _phrase(word: str, loosely: bool) -> str:
    found = f"text : {_quoted(_begun(word))}"
    return f"({found} OR codes : {_quoted(alike(word))})" if loosely else f"({found})"


def _matched(asked: str, best: int = 0) -> RawSQL:
    """The keys of the rows of the index that match; the `best` of them, or all."""
    first = f" ORDER BY rank LIMIT {best}" if best else ""
    sql = f"SELECT rowid FROM {FTS} WHERE {FTS} MATCH %s{first}"  # noqa: S608  (our own names)
    return RawSQL(sql, [asked])  # noqa: S611  (what was typed is a parameter)


def exact(text: str) -> Tool | None:
    """The tool that the text is the code of, or an older code, or the address on its tag."""
    if "\x00" in text:
        return None
    _before, tag, code = text.strip().upper().rpartition("/T/")
    return Tool.objects.called(code.rstrip("/") if tag else text).first()


def respelled(tools: QuerySet[Tool], words: Sequence[str]) -> list[str]:
    """The same search with other words, the nearest first: those with which some of these tools are found."""
    offers: list[list[str]] = [[]]
    for word in words:
        known = with_words(Tool.objects.all(), [word]).exists()
        nearest = [word] if known else _near(word)
        offers = [[*offer, one] for offer in offers for one in nearest][:_OFFERED]
    found = (offer for offer in offers if offer != list(words))
    return [" ".join(offer) for offer in found if with_words(tools, offer).exists()]


def _near(word: str) -> list[str]:
    """Words of tools that share three letters with this one and are much like it."""
    grams = sorted({word[start : start + _TRIGRAM] for start in range(len(word) - _TRIGRAM + 1)} | {f"  {word[:1]}"})
    there = {one for text in _sharing(grams) for one in text.split()}
    return get_close_matches(word, sorted(there), n=_OFFERED, cutoff=0.7)


def _sharing(grams: Iterable[str]) -> QuerySet[SearchText, str]:
    rows = SearchText.objects.values_list("text", flat=True)
    if connections[rows.db].vendor == "sqlite":
        asked = " OR ".join(_quoted(gram) for gram in grams)
        return rows.filter(pk__in=_matched(f"text : ({asked})", _COMPARED))
    return rows.filter(Q(*(("text__contains", gram) for gram in grams), _connector=Q.OR))[:_COMPARED]


def words_in(text: str) -> list[str]:
    """The folded words of what was typed, each once."""
    return list(dict.fromkeys(split(text)))
