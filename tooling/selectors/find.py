"""Tools by their words, wherever these stand: in codes, names, part numbers, places, owner or notes."""

from collections.abc import Iterable, Sequence
from difflib import get_close_matches
from functools import cached_property, reduce
from itertools import pairwise
from operator import or_

from django.db import connection
from django.db.models import Case, Exists, OuterRef, Q, QuerySet, Value, When
from django.db.models.expressions import RawSQL

from tooling.models import SearchText, Tool
from tooling.models.search import alike, is_pair, split, together
from tooling.models.search_index import FTS
from tooling.selectors.paging import COUNTED, counted

# Rows that a mistyped word is compared with, and how many spellings of it are offered.
_COMPARED, _OFFERED = 200, 3
_TRIGRAM = 3


class Words:
    """Folded words as tools are looked for by them; a word of one or two letters stands at a beginning.

    `loosely`: in codes and part numbers 0 and O are alike, and two letters may stand anywhere in them.
    """

    def __init__(self, words: Sequence[str], loosely: bool = False) -> None:
        """Nothing is asked yet."""
        self.words = words
        self.loosely = loosely
        # No trigram says where two letters stand.
        short = [word for word in words if loosely and len(word) < _TRIGRAM]
        self._read_through = short if _on_sqlite() else []
        self._looked_up = [word for word in words if word not in self._read_through]

    @cached_property
    def having(self) -> int:
        """How many tools of the whole shop have them all; COUNTED + 1 where more have."""
        if self._read_through or not _on_sqlite():
            return counted(self.within(Tool.objects.all()))
        return self._matching

    def within(self, tools: QuerySet[Tool]) -> QuerySet[Tool]:
        """Those of the tools that have each word.

        SQLite reads all that its trigrams find before it puts them in order: of words that many tools have, a page is
        sooner found along the order itself. PostgreSQL weighs that alone.
        """
        if self._read_through:
            read = SearchText.objects.filter(self._contained(self._read_through))
            tools = tools.filter(pk__in=read.values("pk"))
        if not self._looked_up:
            return tools
        if _on_sqlite() and self._matching <= COUNTED:
            return tools.filter(pk__in=_matched(self._asked))
        return tools.filter(Exists(SearchText.objects.filter(self._contained(self._looked_up), tool=OuterRef("pk"))))

    def count(self, tools: QuerySet[Tool]) -> int:
        """How many of the tools have them all; COUNTED + 1 where more have."""
        of_the_whole_shop = not tools.query.where
        return self.having if self.words and of_the_whole_shop else counted(self.within(tools))

    @cached_property
    def _matching(self) -> int:
        sql = f"SELECT COUNT(*) FROM (SELECT 1 FROM {FTS} WHERE {FTS} MATCH %s LIMIT {COUNTED + 1})"  # noqa: S608
        with connection.cursor() as cursor:
            cursor.execute(sql, [self._asked])
            return cursor.fetchone()[0]

    @property
    def _asked(self) -> str:
        return " AND ".join(_phrase(word, self.loosely) for word in self._looked_up)

    def _contained(self, words: Sequence[str]) -> Q:
        return Q(*(_contained(word, self.loosely) for word in words))


def with_words(tools: QuerySet[Tool], words: Sequence[str], loosely: bool = False) -> QuerySet[Tool]:
    """Those of the tools that have each folded word."""
    return Words(words, loosely).within(tools)


def _on_sqlite() -> bool:
    return connection.vendor == "sqlite"


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
    there = {one for text in _sharing(grams) for one in text.split() if not is_pair(one)}
    return get_close_matches(word, sorted(there), n=_OFFERED, cutoff=0.7)


def _sharing(grams: Iterable[str]) -> QuerySet[SearchText, str]:
    rows = SearchText.objects.values_list("text", flat=True)
    if _on_sqlite():
        asked = " OR ".join(_quoted(gram) for gram in grams)
        return rows.filter(pk__in=_matched(f"text : ({asked})", _COMPARED))
    has = [Q(text__contains=gram) for gram in grams]
    shared = sum((Case(When(one, then=1), default=0) for one in has), Value(0))
    return rows.filter(reduce(or_, has)).order_by(shared.desc(), "pk")[:_COMPARED]


def phrased(words: Sequence[str]) -> list[str]:
    """The words, each of one letter as what it begins right after the word before it."""
    said = [together(before, word) if len(word) == 1 else word for before, word in pairwise(words)]
    return [*words[:1], *said]


def words_in(text: str) -> list[str]:
    """The folded words of what was typed, each once."""
    return list(dict.fromkeys(split(text)))
