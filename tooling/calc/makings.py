"""Parts on their way through a tool: which lay-up ended with which pull."""

from collections.abc import Iterable
from dataclasses import dataclass, replace

from tooling.calc.order import Placed


@dataclass(frozen=True, slots=True)
class Making:
    """A part in a tool; None stands for what nobody wrote.

    `end` is its pull, or that it was given up. `over`: another was laid up over it, and nothing says what became of it.
    """

    lay_up: Placed | None
    done: Placed | None = None
    end: Placed | None = None
    over: bool = False

    @property
    def first(self) -> Placed:
        """What was written of it first; one of the two is always there."""
        return self.lay_up or self.end  # type: ignore[return-value]


def makings(placed: Iterable[Placed]) -> list[Making]:
    """The parts that went through a tool. A pull takes the part that was laid up last; one without a lay-up is its own.

    Parameters:
        placed [-]: the tool's own standing entries, in order.

    Returns:
        [-] the makings, in the order of what was written of each first.

    Source: the house's own rules of release.
    """
    found: list[Making] = []
    inside = False
    for one in placed:
        kind = one[2].kind
        if kind == "lay_up":
            if inside:
                found[-1] = replace(found[-1], over=True)
            found.append(Making(one))
            inside = True
        elif kind == "lay_up_done" and inside:
            found[-1] = replace(found[-1], done=one)
        elif kind in ("pull", "used") or (kind == "abandoned" and inside):
            if inside:
                found[-1] = replace(found[-1], end=one)
            else:
                found.append(Making(None, end=one))
            inside = False
    return found
