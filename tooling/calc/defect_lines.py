"""What an entry says of defects, one a line: as it stands in its payload, in the chain and in a sheet's cell."""

import re
from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal

# What was seen on a tool; the words of the trade for them stand in `words/terms.py`.
KINDS = (
    "chip", "crack", "crazing", "scratch", "gouge", "pit", "blister", "print_through", "dull", "wear", "delamination",
    "bent", "loose", "other",
)  # fmt: skip
FOUND, SEEN, CLOSED, OPENED = "found", "seen", "closed", "opened"
DID = (FOUND, SEEN, CLOSED, OPENED)
# A place on a picture: thousandths of its width from the left, of its height from the top.
WHOLE = 1000
# No defect is larger than the longest tool; more is a slip of typing.
LARGEST_MM = Decimal(30_000)
_LINE = re.compile(
    r"(?P<number>[1-9]\d{0,5}) (?P<did>\w+)(?: (?P<kind>\w+))?(?:, (?P<size>\d{1,6}(?:\.\d{1,6})?) mm)?"
    r"(?:, at (?P<x>\d{1,4}) (?P<y>\d{1,4}))?(?:, on the (?P<place>\w+))?(?:: (?P<words>.*))?"
)


@dataclass(frozen=True, slots=True)
class DefectLine:
    """One defect in one entry. `number` counts within the tool, from 1; `size_mm` is its longest side.

    kind, x, y and place are said where it was found; size and words at each visit.
    """

    number: int
    did: str
    kind: str = ""
    size_mm: Decimal | None = None
    x: int | None = None
    y: int | None = None
    place: str = ""
    words: str = ""


def read_defects(text: str) -> tuple[DefectLine, ...]:
    """The lines of a text, in their order.

    Parameters:
        text [lines]: such as "3 found crack, 12 mm, at 412 310, on the flange: by the second bolt".

    Returns:
        [-] one value a line; blank lines are left out.

    Raises:
        ValueError: for a line that is none, an unknown word, a place outside the picture, a size out of range, or one
            defect said twice.

    Source: the house's own way of writing them.
    Example: read_defects("1 closed") is one line that closes defect 1.
    """
    lines = tuple(_read(line) for line in (" ".join(one.split()) for one in text.splitlines()) if line)
    numbers = [line.number for line in lines]
    if (twice := next((one for one in numbers if numbers.count(one) > 1), None)) is not None:
        raise ValueError(f"Defect {twice} is said twice; one entry says it once.")
    return lines


def write_defects(lines: Iterable[DefectLine]) -> str:
    """The same lines as a text, which `read_defects` reads back.

    Parameters:
        lines [-]: in the order in which they are to stand.

    Returns:
        [lines] one a line; words are put on one line each.

    Source: the house's own way of writing them.
    Example: write_defects([DefectLine(1, "closed")]) is "1 closed".
    """
    return "\n".join(_written(line) for line in lines)


def _read(line: str) -> DefectLine:
    met = _LINE.fullmatch(line)
    if met is None:
        raise ValueError(f"“{line}” says nothing of a defect; write “3 found crack, 12 mm, at 412 310: words”.")
    if met["did"] not in DID:
        raise ValueError(f"“{met['did']}” is none of {', '.join(DID)}.")
    if met["kind"] and met["kind"] not in KINDS:
        raise ValueError(f"“{met['kind']}” is none of {', '.join(KINDS)}.")
    if met["did"] == FOUND and not met["kind"]:
        raise ValueError(f"Defect {met['number']} was found and is of no kind; say one of {', '.join(KINDS)}.")
    x, y = (int(met[name]) if met[name] else None for name in "xy")
    if max(x or 0, y or 0) > WHOLE:
        raise ValueError(f"{x} {y} lies outside the picture; both go from 0 to {WHOLE}.")
    size = Decimal(met["size"]) if met["size"] else None
    if size is not None and not 0 < size <= LARGEST_MM:
        raise ValueError(f"A defect of {size} mm is none; it is above 0 and at most {LARGEST_MM} mm.")
    return DefectLine(
        int(met["number"]), met["did"], met["kind"] or "", size, x, y, met["place"] or "", met["words"] or ""
    )


def _written(line: DefectLine) -> str:
    said = f"{line.number} {line.did}"
    said += f" {line.kind}" if line.kind else ""
    said += f", {line.size_mm:f} mm" if line.size_mm is not None else ""
    said += f", at {line.x} {line.y}" if line.x is not None and line.y is not None else ""
    said += f", on the {line.place}" if line.place else ""
    words = " ".join(line.words.split())
    return said + (f": {words}" if words else "")
