"""What is said of a cut, as its rules ask it: sizes as plain numbers, the library before what the cut itself says."""

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from typing import Any, Protocol

from tooling.words.sizes import size, worked
from trimfixtures.models import Finish, Kept, Method, Stage


class Sized(Protocol):
    """A cutter or bushing of the library, or of a sheet."""

    @property
    def code(self) -> str:
        """Its code."""

    @property
    def kind(self) -> str:
        """Of CutterKind; "" where nobody knows it."""

    @property
    def nominal_mm(self) -> Decimal | None:
        """Its diameter as it is meant to be."""


class Outlined(Protocol):
    """A trim mask, or what a sheet says of one."""

    @property
    def stage(self) -> str:
        """Of Stage, or ""."""

    @property
    def outline(self) -> str:
        """The line of the net cut."""


@dataclass(frozen=True, slots=True)
class SaidCut:
    """What is said of a cut, beside its trim mask, for somebody who reads in these units."""

    said: Mapping[str, Any]
    mask: Outlined | None
    units: str

    def is_one_of(self, column: str, *words: str) -> bool:
        return self.said.get(column) in words

    def number(self, column: str) -> Decimal | None:
        """A size; None where none is said, or one that cannot be."""
        found: Decimal | None = self.said.get(column)
        return found if found is not None and found > 0 else None

    def size(self, what: str) -> tuple[str, Decimal | None]:
        """The diameter of the cutter or bushing, and the column that says it: the library comes first."""
        one: Sized | None = self.said.get(what)
        if one is not None and one.kind not in ("", what):
            return what, None
        if one is not None and one.nominal_mm is not None:
            return what, one.nominal_mm
        return f"{what}_mm", self.number(f"{what}_mm")

    def mm(self, number: Decimal | float) -> str:
        return size(number, self.units) if isinstance(number, Decimal) else worked(number, self.units)

    @property
    def is_rough(self) -> bool:
        """Whether something else cuts it to its size later."""
        return self.is_one_of("finish", Finish.ROUGH) or (self.mask is not None and self.mask.stage == Stage.ROUGH)

    @property
    def is_guided(self) -> bool:
        """Whether a turning cutter follows the trim mask to the line of the part, and is to leave it as it is said."""
        routed = self.said.get("method") in Method.ROUTED
        return routed and not self.is_one_of("kept", Kept.FAR_SIDE) and not self.is_rough
