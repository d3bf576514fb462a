"""How large a synthetic shop is."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Size:
    """Entries are those of all tools together; the same size and seed give the same shop."""

    tools: int
    entries: int
    seed: int = 1
