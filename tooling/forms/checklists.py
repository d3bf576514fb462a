"""The checklist of a kind as it is typed: a row a line, and a button that says what is done with it."""

from dataclasses import dataclass, replace
from typing import Any

from shared.errors import Refused
from tooling.services.checklist_rules import LONGEST, MOST_ITEMS
from tooling.services.checklists import Item

# A number that nobody can mean: it is refused at its row as one that is too high.
_NO_NUMBER = -1


@dataclass(frozen=True, slots=True)
class Row:
    """A line as it is typed, and what is wrong with it."""

    item: Item
    wrong: str = ""


class ChecklistForm:
    """What was sent. The last row is for a line more; left empty it is none."""

    def __init__(self, data: Any) -> None:
        """`data`: as a browser sends it."""
        self.name, _dot, number = data.get("do", "").partition(".")
        self.number = _whole(number)
        self.typed = [_item(data, row) for row in range(MOST_ITEMS + 2) if f"words.{row}" in data]
        while self.typed and self.typed[-1] == Item(""):
            self.typed.pop()
        # The version that the rows were typed over; 0 where there was none.
        self.read = _whole(data.get("read", ""))
        self.is_marked = False

    def items(self) -> list[Item]:
        """The list as the button wants it: kept as it is typed, one of it earlier or later, or without one."""
        items, at = list(self.typed), self.number
        if self.name == "out" and 0 <= at < len(items):
            del items[at]
        elif self.name == "earlier" and 0 < at < len(items):
            items[at - 1], items[at] = items[at], items[at - 1]
        elif self.name == "later" and 0 <= at < len(items) - 1:
            items[at], items[at + 1] = items[at + 1], items[at]
        return items

    def refused(self, refused: Refused) -> list[Row]:
        """The rows as they were typed, in the order that was wanted, with what is wrong at its row."""
        rows = [Row(item) for item in self.items()]
        number = _whole((refused.field or "").rpartition(".")[2])
        if 0 <= number < len(rows):
            rows[number] = replace(rows[number], wrong=refused.message)
            self.is_marked = True
        return rows


def _item(data: Any, row: int) -> Item:
    texts = {name: data.get(f"{name}.{row}", "").strip() for name in LONGEST}
    spots = data.get(f"spots.{row}", "").strip()
    return Item(**texts, spots=_whole(spots) if spots else 1)


def _whole(text: str) -> int:
    return int(text) if text.isascii() and text.isdigit() and len(text) < 10 else _NO_NUMBER
