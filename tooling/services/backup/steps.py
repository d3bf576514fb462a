"""How far a backup or a restore is."""

from collections.abc import Callable

# So many, of so many, and what is being done
Tell = Callable[[int, int, str], None]
_OFTEN = 500


def silent(done: int, of: int, words: str) -> None:
    """For those who do not want to know."""


class Steps:
    """Tells every now and then."""

    def __init__(self, tell: Tell, of: int, words: str) -> None:
        self._tell, self._of, self._words, self._done = tell, of, words, 0
        tell(0, of, words)

    def one(self) -> None:
        """One more is done."""
        self._done += 1
        if self._done % _OFTEN == 0 or self._done == self._of:
            self._tell(self._done, self._of, self._words)
