"""One reason why a tool may not be used, or what a hand should know before it is."""

from dataclasses import dataclass

from tooling.selectors.holds import HoldSaid
from tooling.words.deeds import Deed

# Who may start all the same: any hand who says why, or a lead alone.
HAND, LEAD = "hand", "lead"


@dataclass(frozen=True, slots=True)
class Reason:
    """`code` names the reason and never changes; `tool` is the code of the surface or tool that it comes from.

    What it is and what mends it are whole sentences. `stops`: else it only warns. `mark`: the state it is drawn as.
    """

    code: str
    tool: str
    text: str
    mend: str = ""
    deed: Deed | None = None
    stops: bool = True
    override: str = HAND
    mark: str = ""
    holds: tuple[HoldSaid, ...] = ()

    @property
    def key(self) -> str:
        """What names it on a page that is sent back, and in the history."""
        return f"{self.code} {self.tool}"
