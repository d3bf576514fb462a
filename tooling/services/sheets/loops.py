"""What lies in what, and what is made from what: a way up that must not lead back."""

from collections.abc import Mapping


class Ties:
    """Each code with the one above it. The ties of the shop are good; those of a sheet come row by row."""

    def __init__(self, above: Mapping[str, str | None]) -> None:
        """Begins with those of the shop."""
        self._above = dict(above)

    def tie(self, code: str, above: str) -> bool:
        """Puts a code under another one, unless that would close a loop: then nothing is done, and the answer is no."""
        step: str | None = above
        while step is not None:
            if step == code:
                return False
            step = self._above.get(step)
        self._above[code] = above
        return True
