"""What every sheet of text has: its paper, how it looks, and pictures that lie in the document itself."""

import base64
from dataclasses import dataclass
from functools import cache
from typing import Any

from django.conf import settings
from django.core.files.storage import default_storage
from django.template.loader import render_to_string
from django.utils.safestring import mark_safe
from django.utils.translation import get_language

from shared.images import CONTENT_TYPE
from shared.paper import letters, qr, stocks
from shared.pieces import in_pieces
from shared.run.address import is_own
from shared.units import US
from tooling.models import Tool
from tooling.services.picture_files import name_of

MARGINS = 26  # mm at both sides
BESIDE = 39  # mm of the head of a sheet that its code for a phone takes
# How large a picture is drawn, of its true size
_SMALLER = (200, 150, 120, 100, 80, 60, 50, 40, 30, 25, 20, 15, 12, 10, 8, 6, 5, 4, 3, 2.5, 2, 1.5)
_SCALES = (*(1 / one for one in _SMALLER), 1, 1.25, 1.5, 2, 2.5, 3, 4, 5)


@dataclass(frozen=True, slots=True)
class Paper:
    """A sheet of paper by its name, in mm."""

    name: str
    width: float
    height: float


PAPERS = {
    "a4": Paper("A4", *stocks.SHEETS[stocks.A4_SHEET]),
    "letter": Paper("Letter", *stocks.SHEETS[stocks.LETTER_SHEET]),
}


def usual_paper(units: str) -> str:
    """Letter where people count in inches, else A4."""
    return "letter" if units == US else "a4"


def asked_paper(key: str, units: str) -> Paper:
    """The paper of that key, else what is usual."""
    return PAPERS.get(key, PAPERS[usual_paper(units)])


def around(address: str, *, shop: Any, who: str, paper: Paper) -> dict[str, Any]:
    """What the template of every sheet is given. address: where its code for a phone leads."""
    return {
        "shop": shop,
        "who": who,
        "paper": paper,
        "language": get_language(),
        "qr": mark_safe(qr.drawing(qr.made(address))),  # noqa: S308  (our own drawing)
        "own": is_own(settings.SITE_URL),
    }


def headed(tool: Tool, address: str, *, shop: Any, who: str, paper: Paper, largest: float = 17) -> dict[str, Any]:
    """What `pdf/of_a_tool.html` is given besides the words."""
    return {
        **around(address, shop=shop, who=who, paper=paper),
        "tool": tool,
        "code_size": fitted(tool.code, paper.width - MARGINS - BESIDE, largest=largest, smallest=8),
    }


def at_scale(whole: float, most: float) -> tuple[float, float]:
    """The largest scale at which a picture that is so wide at 1 : 1 is no wider than there is room, and its width."""
    times = max((one for one in _SCALES if one * whole <= most), default=most / whole)
    return times, times * whole


def fitted(
    words: str, wide: float, *, largest: float, smallest: float, weight: int = letters.BOLD, lines: int = 1
) -> float:
    """How large words are that fit into so many mm; never below the smallest."""
    found = letters.fitted(words, wide, largest=largest, smallest=smallest, weight=weight, lines=lines)
    return found.size if found is not None else smallest


def in_rows(facts: list[Any]) -> list[list[Any]]:
    """Two facts in a row; one that has much to say has a row of its own, below the short ones."""
    return [*map(list, in_pieces([one for one in facts if not one.wide], 2)), *([one] for one in facts if one.wide)]


def inside(digest: str) -> str:
    """A stored picture as an address that holds it, since nothing is fetched while paper is drawn.

    "" where its file is lost: that takes no sheet away.
    """
    try:
        with default_storage.open(name_of(digest)) as file:
            data = file.read()
    except OSError:
        return ""
    return f"data:{CONTENT_TYPE};base64,{base64.b64encode(data).decode()}"


@cache
def css(*more: str) -> str:
    """How sheets of text look, and after it what only some of them have."""
    return "".join(render_to_string(f"pdf/{name}.css") for name in ("pdf", *more))
