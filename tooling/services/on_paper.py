"""What every sheet of text has: its paper, how it looks, and pictures that lie in the document itself."""

import base64
from dataclasses import dataclass
from functools import cache

from django.core.files.storage import default_storage
from django.template.loader import render_to_string

from shared.images import CONTENT_TYPE
from shared.paper import stocks
from shared.units import US
from tooling.services.picture_files import name_of


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
