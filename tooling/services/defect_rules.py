"""What an entry cannot say of defects, wherever it comes from: for the ledger and the sheet of the history."""

from collections.abc import Mapping
from typing import Any

from tooling.calc.defect_lines import read_defects
from tooling.services import entry_rules
from tooling.services.defects import KINDS


def make_known() -> None:
    """Adds the rule; called once, when the program starts."""
    for kind in KINDS:
        entry_rules.register(kind, ("defects",), _of_lines)


def _of_lines(facts: Mapping[str, Any]) -> Mapping[str, str]:
    try:
        read_defects(facts.get("defects") or "")
    except ValueError as wrong:
        return {"defects": str(wrong)}
    return {}
