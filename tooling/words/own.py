"""Words that the program itself writes into a history, as the reason of what it does along with a deed.

They are said as its own: quotation marks stand around what a hand typed, and nowhere else.
"""

from collections.abc import Iterator

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy as later

from tooling.words.terms import CAME_OFF, term

_NOT_LOOKED = later("it came off %(how)s, not looked at yet")
# Why a trim mask is held with what was written of it.
_HELD_WITH = {
    "gouged": later("a cut was gouged, not looked at yet"),
    "slipped": later("the cutter slipped, not looked at yet"),
    "failed": later("its check failed"),
}
SEEN_LATER = later("seen when it was off")
# Why something was put right or taken back. The last is what a hold was written with before the mark was said in it.
_OWN = (
    SEEN_LATER,
    later("tapped wrong"),
    later("tapped wrong: it came off otherwise"),
    later("looked at at once: it is marked"),
    later("looked at at once: it is not marked"),
    later("the pull was rubbed out"),
    later("what it was held with was rubbed out"),
    later("what it was held with was corrected"),
    later("rubbed out at once"),
    later("what it was cut into is said"),
    later("said again"),
    later("taken in by mistake"),
    later("it is there after all"),
    later("a part came off hard, and nobody has looked yet whether the tool is marked"),
)


def not_looked(came_off: str) -> str:
    """it came off stuck, not looked at yet: why a tool is held with a pull."""
    return str(_NOT_LOOKED) % {"how": term(CAME_OFF, came_off)}


def held_with(word: str) -> str:
    """Why a trim mask is held with a cut or a check of it: gouged, slipped, failed."""
    return str(_HELD_WITH[word])


def holds_unseen(words: str) -> bool:
    """Whether a tool is held by the program, until somebody has looked."""
    return words in (str(_OWN[-1]), *_with_something())


def quoted(words: str) -> str:
    """In quotation marks, unless these are the program's own words."""
    return words if words in _all() else _("“%(words)s”") % {"words": words}


def _all() -> Iterator[str]:
    yield from map(str, _OWN)
    yield from _with_something()


def _with_something() -> Iterator[str]:
    """Why a tool is held with what was written."""
    yield from map(not_looked, CAME_OFF)
    yield from map(str, _HELD_WITH.values())
