"""What was answered to a checklist, one item a line: as it stands in an entry, in the chain and in a sheet's cell."""

import re
from collections.abc import Iterable
from dataclasses import dataclass

GOOD, NOT_GOOD, LEFT = "good", "not_good", "left"
SAID = (GOOD, NOT_GOOD, LEFT)
_LINE = re.compile(r"(?P<item>[1-9]\d{0,2}) (?P<said>\w+)(?:: (?P<words>.*))?")


@dataclass(frozen=True, slots=True)
class Answer:
    """To one item of a checklist, by its place in it from 1. `left`: nobody looked."""

    item: int
    said: str
    words: str = ""


def read_answers(text: str) -> tuple[Answer, ...]:
    """The lines of a text, in their order.

    Parameters:
        text [lines]: such as "2 not_good: dull at the keel".

    Returns:
        [-] one value a line; blank lines are left out.

    Raises:
        ValueError: for a line that is none, an unknown word, or one item answered twice.

    Source: the house's own way of writing them.
    Example: read_answers("1 good") answers the first item.
    """
    answers = tuple(_read(line) for line in (" ".join(one.split()) for one in text.splitlines()) if line)
    items = [one.item for one in answers]
    if (twice := next((one for one in items if items.count(one) > 1), None)) is not None:
        raise ValueError(f"Item {twice} is answered twice; one look answers it once.")
    return answers


def write_answers(answers: Iterable[Answer]) -> str:
    """The same answers as a text, which `read_answers` reads back.

    Parameters:
        answers [-]: in the order in which they are to stand.

    Returns:
        [lines] one a line; words are put on one line each.

    Source: the house's own way of writing them.
    Example: write_answers([Answer(1, "good")]) is "1 good".
    """
    return "\n".join(_written(one) for one in answers)


def _read(line: str) -> Answer:
    met = _LINE.fullmatch(line)
    if met is None:
        raise ValueError(f"“{line}” answers nothing; write “2 not_good: dull at the keel”.")
    if met["said"] not in SAID:
        raise ValueError(f"“{met['said']}” is none of {', '.join(SAID)}.")
    return Answer(int(met["item"]), met["said"], met["words"] or "")


def _written(answer: Answer) -> str:
    words = " ".join(answer.words.split())
    return f"{answer.item} {answer.said}" + (f": {words}" if words else "")
