"""What came up while reading: what is to be settled once for all rows, and what was read otherwise than it stands."""

from dataclasses import dataclass, field

_MOST_LISTED = 50


@dataclass
class Doubts:
    """For the page, in the order of the file."""

    words: dict[tuple[str, str], dict[str, int]] = field(default_factory=dict)
    read_as: dict[tuple[str, str], dict[str, tuple[str, int]]] = field(default_factory=dict)
    codes: dict[str, str] = field(default_factory=dict)
    code_count: int = 0
    days: str = ""

    def word(self, sheet: str, column: str, word: str) -> None:
        """A word that is none of ours, a day or number that cannot be read."""
        counts = self.words.setdefault((sheet, column), {})
        if word in counts or len(counts) < _MOST_LISTED:
            counts[word] = counts.get(word, 0) + 1

    def read(self, sheet: str, column: str, text: str, means: str) -> None:
        """A day or number that stands there in words, and what it was read as."""
        seen = self.read_as.setdefault((sheet, column), {})
        if text in seen or len(seen) < _MOST_LISTED:
            seen[text] = (means, seen.get(text, ("", 0))[1] + 1)

    def code(self, old: str, proposed: str) -> None:
        """A code that cannot be one."""
        self.code_count += 1
        if len(self.codes) < _MOST_LISTED:
            self.codes[old] = proposed

    def forget(self) -> None:
        """Begins anew: the rows are read once more."""
        self.words.clear()
        self.read_as.clear()
        self.codes.clear()
        self.code_count = 0
