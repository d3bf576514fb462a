"""What an entry cannot say where another app writes its kind: for the ledger, and so every form, and for the sheet."""

from collections.abc import Callable, Collection, Mapping
from typing import Any

# Facts by their names, `at` among them, each with what is wrong with it. Numbers and days may be texts, as an entry
# keeps them. A row of a sheet that was exported has `recorded_at` as well.
Rule = Callable[[Mapping[str, Any]], Mapping[str, str]]
_rules: dict[str, list[tuple[frozenset[str], Rule]]] = {}


def register(kind: str, reads: Collection[str], rule: Rule) -> None:
    """Adds a rule for a kind of entry; `reads`: the facts that it looks at. An app calls this in AppConfig.ready()."""
    _rules.setdefault(kind, []).append((frozenset(reads), rule))


def wrong_with(kind: str, facts: Mapping[str, Any], unread: Collection[str] = ()) -> dict[str, str]:
    """What is wrong with the facts of an entry, by name; a rule that looks at one of `unread` is not asked."""
    wrong: dict[str, str] = {}
    for reads, rule in _rules.get(kind, ()):
        if reads.isdisjoint(unread):
            wrong = {**rule(facts), **wrong}
    return wrong
