"""What a tag says, as plain words: said by the selectors, laid out by the drawings.

Whether a tool may be used is not in it, but for the tag that hangs on a held one and that of a retired one.
"""

from dataclasses import dataclass

# What may be left out for want of room, the first first. Never are: code, QR, section, name, caution, that a tool is
# retired, that nobody has said how it is lifted. What keeps hands and backs whole goes last. `name_end`: the name is
# cut to two lines and ends in a sign that there is more; `lift`: a sentence that its words are on the tool's page
# stands for them.
LEFT_OUT_FIRST = (
    "gates", "matched_set", "owner_ref", "home_code", "more", "owner", "within", "height", "kind", "home",
    "name_end", "hottest", "lift", "mass",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Piece:
    """A few words that stay or go together: `before` in plain letters, then `words` in bold ones.

    `instead` stands for them where there is no room, in one short sentence.
    """

    name: str
    words: str
    before: str = ""
    instead: str = ""


Line = tuple[Piece, ...]


@dataclass(frozen=True, slots=True)
class ToolTag:
    """The tag of a tool; `pulls`: the words before the row of empty gates, "" where nothing is pulled from it."""

    code: str
    kind: str
    name: str
    lines: tuple[Line, ...]
    caution: str
    pulls: str = ""

    def said(self, name: str) -> str:
        """The words of a piece, or ""."""
        return next((piece.words for line in self.lines for piece in line if piece.name == name), "")


@dataclass(frozen=True, slots=True)
class PlaceTag:
    """The tag of a place; `load`: the most that it may carry, that nobody has said it, or ""."""

    code: str
    name: str
    lines: tuple[Line, ...] = ()
    load: str = ""


@dataclass(frozen=True, slots=True)
class Reason:
    """Why a tool is held, and since when by whom."""

    why: str
    since: str
    by: str = ""


@dataclass(frozen=True, slots=True)
class HeldTag:
    """The tag that hangs on a tool while it is held; `says` in large letters, `comes_off` when it may be taken off.

    `name`: the tool's, which is the first to have no room.

    `why`, `since`, `by`: the words before those of the reasons. `more`: how it is said that one reason has no room,
    that two have none, and so on.
    """

    code: str
    says: str
    reasons: tuple[Reason, ...]
    comes_off: str
    why: str = ""
    since: str = ""
    by: str = ""
    more: tuple[str, ...] = ()
    name: str = ""
