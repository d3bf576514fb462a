"""One reason why a tool may not be used, or what a hand should know before it is."""

from dataclasses import dataclass

from django.urls import reverse

from tooling.models import PartRevision
from tooling.selectors.holds import HoldSaid
from tooling.words.deeds import Deed

# Who may start all the same: any hand who says why, or a lead alone.
HAND, LEAD = "hand", "lead"
# What mends these stands in their own sentence: until when it waits, or which coats are wanted.
_SAYS_WHAT_MENDS = frozenset({"curing", "film_drying", "not_prepared", "preparing"})


@dataclass(frozen=True, slots=True)
class Reason:
    """`code` names the reason and never changes; `tool` is the code of the surface or tool that it comes from.

    What it is and what mends it are whole sentences. `stops`: else it only warns. `mark`: the state it is drawn as.
    `revision`: of the part that is asked for, where what mends it is done there. `where`: the address of the deed,
    where it is done on a page of another app.
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
    revision: PartRevision | None = None
    where: str = ""

    @property
    def key(self) -> str:
        """What names it on a page that is sent back, and in the history."""
        return f"{self.code} {self.tool}"

    @property
    def beside(self) -> str:
        """What mends it, where its own sentence does not say that already."""
        return "" if self.code in _SAYS_WHAT_MENDS else self.mend

    @property
    def address(self) -> str:
        """Where the deed is done that mends it; "" where only waiting or a decision does."""
        if self.deed is None or self.where:
            return self.where
        if self.deed.of == "shop":
            return reverse(self.deed.name)
        if self.revision is None:
            return reverse(self.deed.name, args=[self.tool])
        part = {"part": self.revision.part.number}
        if self.deed.of == "revision":
            return reverse(self.deed.name, kwargs={**part, "revision": self.revision.pk})
        return reverse(self.deed.name, kwargs=part, query={"revision": self.revision.revision})

    @property
    def of_tool(self) -> bool:
        """Whether it is mended on a tool's own page, or nowhere."""
        return self.deed is None or (self.deed.of == "tool" and not self.where)
