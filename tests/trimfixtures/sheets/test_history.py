"""Cuts and checks in the sheet of the history: refused at the cell at fault, as the ledger refuses them."""

from decimal import Decimal

import pytest

from shared.errors import Refused
from tests.tooling.sheets.books import cells_at_fault, write_csv
from tooling.services.tools import add_tool
from trimfixtures.services.deeds import log_check, log_use

pytestmark = pytest.mark.django_db
CHECK = {"entry": "check", "passed": "yes", "points": "bow @ 0: +0.2; stern: in", "limit_mm": "0.25"}
USED = {"entry": "used", "metres": "2.5", "minutes": 0, "cutter": "C-6, X"}
WRONG = [
    ({**CHECK, "points": "bow @ 0: +9"}, "passed"),
    ({**CHECK, "passed": "no"}, "passed"),
    ({**CHECK, "points": "stern: out", "limit_mm": ""}, "passed"),
    ({**CHECK, "points": "garbage ; : @@"}, "points"),
    ({**CHECK, "limit_mm": "-1"}, "limit_mm"),
    ({**CHECK, "points": "", "limit_mm": "-1"}, "limit_mm"),
    ({**CHECK, "limit_mm": "wide", "points": "bow @ 0: +9"}, "limit_mm"),
    ({**CHECK, "passed": ""}, "passed"),
    ({**USED, "metres": "-5"}, "metres"),
    ({**USED, "minutes": -2}, "minutes"),
]
# A paper record may say no limit, or nothing of the points.
RIGHT = [
    CHECK, USED, {**CHECK, "limit_mm": ""}, {**CHECK, "points": "bow @ 0", "passed": "no"},
    {"entry": "check", "passed": "no"}, {**CHECK, "passed": "no", "points": "bow: +0.1; stern: out", "limit_mm": ""},
]  # fmt: skip


def test_what_contradicts_itself_is_refused_at_its_cell_and_nothing_else(tmp_path):
    tools = [{"code": "T-1", "kind": "trim_mask", "name": "Hull"}]
    rows = [{"tool": "T-1", "at": "2026-03-01", **row} for row in (*RIGHT, *(row for row, _column in WRONG))]
    book = write_csv(tmp_path / "a", {"tools": tools, "history": rows})
    assert cells_at_fault(book) == [
        ("history", number, column) for number, (_row, column) in enumerate(WRONG, 2 + len(RIGHT))
    ]


@pytest.mark.parametrize(
    ("log", "facts", "field"),
    [
        (log_check, {"passed": True, "points": "bow: out"}, "passed"),
        (log_check, {"passed": True, "limit_mm": Decimal(-1)}, "limit_mm"),
        (log_check, {"passed": None}, "passed"),
        (log_use, {"metres": Decimal(-5)}, "metres"),
    ],
)
def test_so_does_the_ledger(log, facts, field):
    tool = add_tool(code="T-1", name="Hull", kind="trim_mask")
    with pytest.raises(Refused) as refused:
        log(tool, by=None, recorded_by=None, **facts)
    assert refused.value.field == field
    assert not tool.entries.exists()
