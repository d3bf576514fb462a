"""The words that tools are found by, kept level with what they are made from."""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from typing import Any

from django.db import DEFAULT_DB_ALIAS, connections, transaction
from django.db.models import Q

from shared.pieces import in_pieces
from tooling.calc.entry import INSERT_KINDS, USE_KINDS
from tooling.models import Entry, Kind, Place, PlaceAlias, SearchText, Summary, Tool, ToolAlias
from tooling.models.search import alike, packed, pairs_of, words_of
from tooling.selectors.about import parts_named
from tooling.selectors.place_tree import below
from tooling.services.whereabouts import PLACE_KINDS

# What an entry says in words, beside its part. Serial numbers are left out: the words would grow with each pull.
_SAID = ("note", "reason", "step", "why", "lot")
_PIECE = 500
# Tools whose words are made anew at once where a whole room gets another name.
_AT_ONCE = 50


def keep(tools: Iterable[int], size: int = _PIECE) -> None:
    """Makes the words of these tools anew from their columns, old codes, places and histories.

    Called by every service that changes one of them.
    """
    for piece in in_pieces(sorted(set(tools)), size):
        with transaction.atomic():
            # Read only when the rows are locked: what another one adds at this moment must not be lost.
            list(SearchText.objects.select_for_update().filter(tool__in=piece).order_by("tool_id"))
            _store(texts(piece))


def keep_entry(summary: Summary, entry: Entry, changed: Iterable[Summary] = ()) -> None:
    """Adds the words of an entry that was just written; one that takes words away or moves the tool makes all anew.

    `changed`: the summaries that it bears on. The part of a mold's use is also one of the mold inserts that it reaches.
    """
    part, takes_away = words_of(entry.part), entry.voids is not None or entry.replaces is not None
    inserts = {one.tool_id for one in changed if one.tool.kind == Kind.INSERT} - {summary.tool_id}
    if inserts and takes_away:
        keep(inserts)
    elif inserts and part and entry.kind in USE_KINDS:
        rows = SearchText.objects.filter(tool__in=inserts).values_list("tool_id", "text")
        keep(insert for insert, text in rows if not part <= set(text.split()))
    _keep_own(summary, entry, anew=takes_away or entry.kind in {*PLACE_KINDS, *INSERT_KINDS})


def _keep_own(summary: Summary, entry: Entry, anew: bool) -> None:
    said, part = words_of(*_said(entry.payload)), words_of(entry.part)
    if not (said or part or anew):
        return
    row = None if anew else SearchText.objects.select_for_update().filter(tool=summary.tool_id).first()
    if row is None:
        keep([summary.tool_id])
        return
    words, codes = set(row.text.split()), set(row.codes.split())
    if said | part <= words and {alike(word) for word in part} <= codes:
        return
    _store([_row(summary.tool_id, words | said | part, codes | part)])


def keep_places(places: Iterable[int]) -> None:
    """The same for all tools that belong or were seen at these places or below them, after one changed its name."""
    there = below(places)
    lying = Summary.objects.filter(Q(home__in=there) | Q(seen_place__in=there))
    keep(lying.values_list("tool_id", flat=True), _AT_ONCE)


def fill(using: str = "default") -> None:
    """Words for the tools that have none yet, as after an upgrade. Does nothing before all tables are there."""
    tables = connections[using].introspection.table_names()
    if using == DEFAULT_DB_ALIAS and {SearchText._meta.db_table, ToolAlias._meta.db_table} <= set(tables):
        keep(Tool.objects.filter(search_text=None).values_list("pk", flat=True))


def texts(tools: Sequence[int]) -> list[SearchText]:
    """What the rows of these tools must say, worked out from what it is made from."""
    words: dict[int, set[str]] = defaultdict(set)
    codes: dict[int, set[str]] = defaultdict(set)
    for tool, *columns in Tool.objects.filter(pk__in=tools).values_list("pk", "code", *_COLUMNS):
        codes[tool] |= words_of(columns[0])
        words[tool] |= words_of(*columns) | pairs_of(columns[1])
    for tool, code in ToolAlias.objects.filter(tool__in=tools).values_list("tool_id", "code"):
        codes[tool] |= words_of(code)
        words[tool] |= pairs_of(code)
    for tool, place, name in _places(tools):
        words[tool] |= words_of(place, name) | pairs_of(name)
    if Entry.objects.filter(tool__in=tools).exists():  # a tool that was just added has no history to look through
        for tool, part in _standing(tools).exclude(part="").values_list("tool_id", "part").distinct():
            codes[tool] |= words_of(part)
        for tool, part in _parts_of_inserts(tools):
            codes[tool] |= words_of(part)
        for tool, payload in _standing(tools).filter(_HAS_WORDS).values_list("tool_id", "payload").iterator():
            words[tool] |= words_of(*_said(payload))
    return [_row(tool, words[tool] | codes[tool], codes[tool]) for tool in sorted(words)]


_COLUMNS = ("name", "owner", "owner_ref", "matched_set", "design_ref", "note")
_HAS_WORDS = Q(*((f"payload__{name}__isnull", False) for name in _SAID), _connector=Q.OR)


def _standing(tools: Iterable[int]) -> Any:
    return Entry.objects.filter(tool__in=tools).standing()


def _said(payload: dict[str, Any]) -> list[str]:
    return [str(payload[name]) for name in _SAID if name in payload]


def _parts_of_inserts(tools: Sequence[int]) -> Iterator[tuple[int, str]]:
    """The parts that were made while a mold insert was in the mold."""
    installed = Entry.objects.filter(tool__in=tools, kind="installed").values("tool")
    for insert in Tool.objects.filter(pk__in=installed, kind=Kind.INSERT):
        for part in parts_named(insert).values_list("part", flat=True).distinct():
            yield insert.pk, part


def _places(tools: Sequence[int]) -> Iterator[tuple[int, str, str]]:
    """Codes, and name, of each tool's home, of where it was last seen, and of all that these lie within."""
    at = list(
        Summary.objects.filter(tool__in=tools)
        .exclude(home=None, seen_place=None)
        .values_list("tool_id", "home_id", "seen_place_id")
    )
    if not at:
        return
    known: dict[int, tuple[str, str, int | None]] = {
        pk: (code, name, parent) for pk, code, name, parent in Place.objects.values_list("pk", "code", "name", "parent")
    }
    old: dict[int, str] = defaultdict(str)
    for pk, code in PlaceAlias.objects.values_list("place_id", "code"):
        old[pk] += f" {code}"
    for tool, home, seen in at:
        for start in (home, seen):
            place: int | None = start
            while place is not None:
                code, name, within = known[place]
                yield tool, f"{code}{old[place]}", name
                place = within


def _row(tool: int, words: set[str], codes: set[str]) -> SearchText:
    return SearchText(tool_id=tool, text=packed(words), codes=packed({alike(code) for code in codes}))


def _store(rows: list[SearchText]) -> None:
    SearchText.objects.bulk_create(
        rows, update_conflicts=True, unique_fields=["tool"], update_fields=["text", "codes"], batch_size=_PIECE
    )
