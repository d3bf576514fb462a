"""What an entry cannot say of a checklist: for the ledger, and so every form, and for the sheet.

A line or a version that nobody knows is kept: the page of the look says so.
"""

from collections.abc import Mapping
from typing import Any

from tooling.calc.answers import read_answers
from tooling.services import entry_rules

KINDS = ("inspected", "accepted")


def make_known() -> None:
    """To the ledger and the sheet of the history."""
    for kind in KINDS:
        entry_rules.register(kind, ("answers",), _of_lines)


def _of_lines(facts: Mapping[str, Any]) -> dict[str, str]:
    try:
        read_answers(facts.get("answers") or "")
    except ValueError as wrong:
        return {"answers": str(wrong)}
    return {}
