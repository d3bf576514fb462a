"""The list of steps of a kind as it is typed: a row a step, and a button that says what is done with it."""

from dataclasses import dataclass, replace
from typing import Any

from shared.errors import Refused
from tooling.services.making_steps import MOST_STEPS, Step


@dataclass(frozen=True, slots=True)
class Row:
    """A step as it is typed, and what is wrong with it."""

    step: Step
    wrong: str = ""


class StepsForm:
    """What was sent. The last row is for a step more; left empty it is none."""

    def __init__(self, data: Any) -> None:
        """`data`: as a browser sends it."""
        self.name, _dot, number = data.get("do", "").partition(".")
        self.number = int(number) if number.isascii() and number.isdigit() and len(number) < 5 else -1
        self.typed = [
            Step(data[f"name.{row}"], data.get(f"by_entry.{row}", ""), data.get(f"note.{row}", ""))
            for row in range(MOST_STEPS + 2)
            if f"name.{row}" in data
        ]
        while self.typed and not (self.typed[-1].name.strip() or self.typed[-1].note.strip()):
            self.typed.pop()
        self.read = data.get("read", "")
        self.is_marked = False

    def steps(self) -> list[Step]:
        """The list as the button wants it: kept as it is typed, one of it earlier or later, or without one."""
        steps, at = list(self.typed), self.number
        if self.name == "out" and 0 <= at < len(steps):
            del steps[at]
        elif self.name == "earlier" and 0 < at < len(steps):
            steps[at - 1], steps[at] = steps[at], steps[at - 1]
        elif self.name == "later" and 0 <= at < len(steps) - 1:
            steps[at], steps[at + 1] = steps[at + 1], steps[at]
        return steps

    def refused(self, refused: Refused) -> list[Row]:
        """The rows as they were typed, in the order that was wanted, with what is wrong at its row."""
        rows = [Row(step) for step in self.steps()]
        number = (refused.field or "").rpartition(".")[2]
        if number.isdigit() and int(number) < len(rows):
            rows[int(number)] = replace(rows[int(number)], wrong=refused.message)
            self.is_marked = True
        return rows
