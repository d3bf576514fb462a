"""What the page of a trim mask shows above all that every tool has there: how it sits, and its cuts in order."""

from tooling.models import Person
from tooling.selectors.panels import Panel
from tooling.selectors.tool import ToolPage
from trimfixtures.selectors.checks import checked
from trimfixtures.selectors.trim import trim_of
from trimfixtures.words.cut_said import cuts_said
from trimfixtures.words.fetch import fetch
from trimfixtures.words.standing import by_record
from trimfixtures.words.trim import cautions, feed, holds_fast, sits, stage_and_hand


def panel(shown: ToolPage, person: Person) -> Panel:
    """In the units of whoever reads the page; first that it is usable by its record, where nothing stops it."""
    of = trim_of(shown.tool, shown.at, units=person.units)
    context = {
        "trim": of,
        "stage": stage_and_hand(of),
        "fetch": fetch(of.cuts, person.units),
        "seat": sits(of, person.units),
        "cuts": cuts_said(of.cuts, person.units),
        "feed": feed(of.cuts),
        "holds_fast": holds_fast(of.cuts),
        "cautions": cautions(of),
        "parts": list(dict.fromkeys(one.revision.part.number for one in of.serves)),
        "units": person.units,
    }
    said = by_record(checked([shown.tool], shown.at)[shown.tool.pk])
    return Panel("trimfixtures/_trim.html", context, said, sheets=("face/drawn.css", "face/trim_mask.css"))
