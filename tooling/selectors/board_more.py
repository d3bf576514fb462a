"""What other apps show on the morning board: sections of their own, and words on the rows of parts in molds."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime
from typing import Any, TypeVar

from django.utils.functional import Promise

from tooling.models import Shop
from tooling.selectors.rows import Row
from tooling.words.lines import Line
from tooling.words.opening import Clause

T = TypeVar("T")


@dataclass(frozen=True, eq=False)
class Morning:
    """The board that is asked for: the rows of its parts in molds, in the units of its reader.

    lead: whether a lead reads it.
    """

    at: datetime
    shop: Shop
    in_molds: Sequence[Row]
    units: str
    lead: bool = False
    _kept: dict[Any, Any] = field(default_factory=dict, repr=False)

    def once(self, ask: Callable[["Morning"], T]) -> T:
        """What is asked of this board, read once for whatever an app shows on it."""
        if ask not in self._kept:
            self._kept[ask] = ask(self)
        return self._kept[ask]


@dataclass(frozen=True, slots=True)
class MoreRows:
    """A section: its anchor and heading, its rows, and its words in the sentence that opens the board.

    `more`: how many of it are not shown.
    """

    title: str | Promise
    lines: list[Line]
    opening: Clause
    more: int = 0

    @property
    def anchor(self) -> str:
        """Where the opening leads to."""
        return self.opening.group


# None, or a section without lines, is left out.
Section = Callable[[Morning], MoreRows | None]
# By the key of a mold: whole sentences about the part that is in it.
Beside = Callable[[Morning], Mapping[int, Sequence[str]]]
_sections: list[Section] = []
_beside: list[Beside] = []


def register_section(section: Section) -> None:
    """Adds a section below those that there are; what is known already is not added twice."""
    if section not in _sections:
        _sections.append(section)


def register_beside(beside: Beside) -> None:
    """Adds words to the rows of parts in molds."""
    if beside not in _beside:
        _beside.append(beside)


def sections(morning: Morning) -> list[MoreRows]:
    """Those that have rows now."""
    made = (section(morning) for section in _sections)
    return [one for one in made if one is not None and one.lines]


def beside(morning: Morning) -> dict[int, tuple[str, ...]]:
    """What is said on the row of each part in a mold, by the key of the mold."""
    found: dict[int, tuple[str, ...]] = {}
    for words in _beside:
        for key, said in words(morning).items():
            found[key] = (*found.get(key, ()), *said)
    return found
