"""What a check of the history reports."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Finding:
    """Something in the stored history that cannot be as the program wrote it.

    The tool's code is "" where the finding is about no single tool, the number is None where about no single entry.
    """

    tool: str
    number: int | None
    what: str

    def __str__(self) -> str:
        where = [self.tool, "" if self.number is None else str(self.number)]
        return ": ".join(filter(None, [" ".join(filter(None, where)), self.what]))
