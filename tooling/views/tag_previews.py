"""The first of the chosen tags on the screen, drawn as on paper: what stands in style attributes goes into a sheet.

The policy of our pages refuses style attributes, and takes one sheet of this page by its nonce.
"""

import re
from dataclasses import dataclass
from functools import cache
from math import ceil
from pathlib import Path

from csp.constants import NONCE
from csp.decorators import csp_update
from django.conf import settings
from django.utils.safestring import mark_safe

import shared.paper
from shared import clock
from shared.errors import Refused
from tooling.forms.tag_choice import TagChoice
from tooling.forms.tags import TagForm
from tooling.services.tags.printing import Chosen, drawn

FIRST = 3
# Pixels in a millimetre, those beside a tag on a screen, and by how many a screen is narrower until it gets smaller.
_PIXELS, _BESIDE, _STEP = 96 / 25.4, 44, 20
_NARROWEST = 320
_STYLE = re.compile(r'(<[a-z][^<>]*?) style="([^"<>]*)"')
with_looks = csp_update({"style-src": [NONCE]})


@dataclass(frozen=True, slots=True)
class Looks:
    """Tags by their codes, as HTML, and the sheet that puts everything in its place; or why there is none."""

    tags: list[tuple[str, str]]
    css: str
    refused: str = ""


def preview(choice: TagChoice, form: TagForm, units: str) -> Looks | None:
    """The first tags on the stock that the form says; None where it says none."""
    stock = form.shown
    if stock is None:
        return None
    gates = form["gates"].value() != "no"
    try:
        # A page that is only looked at writes nothing.
        how = {"at": clock.now(), "stock": stock, "units": units, "gates": gates, "keep": False}
        tags = list(drawn(_first(choice), site_url=settings.SITE_URL, **how))
    except Refused as refused:
        return Looks([], "", refused.message)
    rules: list[str] = []
    shown = [(code, mark_safe(_without_styles(tag.html(), rules))) for code, tag in tags]  # noqa: S308  (drawn by us)
    return Looks(shown, mark_safe(_paper_css() + "".join(rules) + _fitted(stock.wide)))  # noqa: S308


def _first(choice: TagChoice) -> Chosen:
    tools = list(choice.tools.order_by("code").values_list("pk", flat=True)[:FIRST])
    places = list(choice.places.order_by("code").values_list("pk", flat=True)[: FIRST - len(tools)])
    return Chosen(tools=tools, places=places, held=choice.held)


def _without_styles(html: str, rules: list[str]) -> str:
    def moved(found: re.Match[str]) -> str:
        rules.append(f'.tag [data-look="{len(rules)}"],.tag[data-look="{len(rules)}"]{{{found[2]}}}')
        return f'{found[1]} data-look="{len(rules) - 1}"'

    return _STYLE.sub(moved, html)


def _fitted(wide: float) -> str:
    """On screens that are narrower than the tag it is made smaller, in steps since zoom takes no lengths."""
    size = wide * _PIXELS
    fits = _STEP * ceil((size + _BESIDE) / _STEP)
    told = f"@media (max-width:{fits - 0.02}px){{.true-size{{display:none}}.fitted{{display:inline}}}}"
    return told + "".join(
        f"@media (max-width:{screen + _STEP - 0.02}px){{.tag-hold .tag{{zoom:{(screen - _BESIDE) / size:.3f}}}}}"
        for screen in range(fits - _STEP, _NARROWEST - 1, -_STEP)
    )


@cache
def _paper_css() -> str:
    """The sheet of the paper, so that the screen has no other."""
    return (Path(shared.paper.__file__).parent / "tag.css").read_text()
