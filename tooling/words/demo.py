"""What to try in the demo: five steps for each role."""

from dataclasses import dataclass

from django.utils.functional import Promise
from django.utils.translation import gettext_lazy as _


@dataclass(frozen=True, slots=True)
class Step:
    """Something to try, and the page that it begins on. `kind`: of the entry that shows that it was
    done, or "". `corrects`: a correction shows it as well, `prints`: a print of tags shows it."""

    key: str
    title: str | Promise
    words: str | Promise
    page: str
    code: str = ""
    tail: str = ""
    kind: str = ""
    corrects: bool = False
    prints: bool = False


_PULL = Step(
    "pull",
    _("Pull a part"),
    _("Open a mold whose time is up, tap Pulled, then how it came off. That is all."),
    "board", tail="#molds", kind="pull",
)  # fmt: skip
_LAY_UP = Step(
    "lay_up",
    _("Start a lay-up"),
    _("Go or no-go comes first, with every reason and what mends it."),
    "board", tail="#ready", kind="lay_up",
)  # fmt: skip
_COAT = Step(
    "coat",
    _("Put a coat on"),
    _("The tape shows how many are missing, and from when it can be laid up."),
    "board", tail="#coat", kind="coat",
)  # fmt: skip
_STOP = Step(
    "hold",
    _("Stop a tool"),
    _("Something is wrong with it: stop it, say where. A cross lies on it until somebody has looked."),
    "tool", code="DECK-2B", kind="hold",
)  # fmt: skip
_RUB_OUT = Step(
    "void",
    _("Rub something out"),
    _("Under a deed just written stands “Rub it out”, for five minutes. It stays to be read, struck through."),
    "tool", code="DECK-2B", kind="void",
)  # fmt: skip
_HISTORY = Step(
    "history",
    _("Read a history"),
    _("What happened to this mold, who did it, what was corrected, and how its pulls left are worked out."),
    "tool", code="DECK-2B", tail="#history",
)  # fmt: skip
_FIND = Step("find", _("Find a tool"), _("A code, a name, a part, a place: one box finds them all."), "tools")
_MORNING = Step("morning", _("Read the morning"), _("The first page says what waits, and what is ready when."), "board")
_SHEET = Step(
    "sheet",
    _("Print a tool’s sheet"),
    _("One page for the file: it is true for its minute only."),
    "tool", code="DECK-2B", tail="#s-paper",
)  # fmt: skip

_TAGS = Step(
    "tags",
    _("Print tags"),
    _("Choose tools and a stock, and see them at true size. A phone that reads a tag opens its tool."),
    "tags", prints=True,
)  # fmt: skip

STEPS: dict[str, tuple[Step, ...]] = {
    "lead": (
        _MORNING,
        Step(
            "inspected",
            _("Look at what is held"),
            _("Say what you found: it passes and is free, or it stays held."),
            "board", tail="#held", kind="inspected",
        ),
        Step(
            "recipe",
            _("Question a recipe"),
            _("Hard pulls by the lot of the wax, and what another number would do to every tool, before it counts."),
            "recipes",
        ),
        Step(
            "put_right",
            _("Put a wrong entry right"),
            _("In a history, Void or Correct: you see what it does before it is written."),
            "tool", code="DECK-2B", tail="#history", kind="void", corrects=True,
        ),
        _TAGS,
    ),
    "hand": (_PULL, _LAY_UP, _COAT, _STOP, _RUB_OUT),
    "reader": (
        _MORNING,
        _FIND,
        _HISTORY,
        Step("parts", _("Look a part up"), _("Which tools make it, and how long it takes."), "parts"),
        _SHEET,
    ),
    "station": (
        Step(
            "pull",
            _("Pull a part at the tablet"),
            _("Tap a row, then whose hands; the PIN of every hand here is printed where the demo was started."),
            "wall", kind="pull",
        ),
        Step("lay_up", _("Start a lay-up"), _LAY_UP.words, "wall", kind="lay_up"),
        Step("coat", _("Put a coat on"), _COAT.words, "wall", kind="coat"),
        Step(
            "tell",
            _("Tell the lead"),
            _("On a tool’s page, in a few words; it holds nothing, and the lead sees it in the morning."),
            "tool", code="DECK-2B", kind="note",
        ),
        Step("scan", _("Type a code"), _("Above the rows: DECK-2B opens its page, as its tag would."), "wall"),
    ),
}  # fmt: skip

_IN_SHORT = {
    "lead": _("read the morning, free what is held"),
    "hand": _("pull a part, put a coat on"),
    "reader": _("find a tool, read its history"),
    "station": _("log at the wall, with a PIN"),
}


def in_short(role: str) -> str:
    """What to try as each role, in a line."""
    return str(_IN_SHORT.get(role, ""))
