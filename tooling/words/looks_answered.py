"""What a line of the history says of a checklist that was gone through."""

from collections import Counter
from collections.abc import Iterator, Mapping
from typing import Any

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy as later
from django.utils.translation import ngettext

from tooling.calc.answers import GOOD, LEFT, NOT_GOOD, read_answers

SAID = {GOOD: later("good"), NOT_GOOD: later("not good"), LEFT: later("not looked at")}
# The two answers to "May it be used?": of a tool that is held, of one that is not, of one that is to be accepted.
IF_HELD = [("yes", later("yes, free it")), ("no", later("no, it stays held"))]
IF_NOT_HELD = [("yes", later("yes, it passed")), ("no", later("no, hold it"))]
IF_ACCEPTED = [("yes", later("yes, it is accepted")), ("no", later("not yet, it is held"))]


def too_few(wanted: int, found: int) -> str:
    """3 values are wanted here, 1 is given."""
    text = ngettext("%(wanted)d value is wanted here", "%(wanted)d values are wanted here", wanted) % {"wanted": wanted}
    given = (
        ngettext("%(found)d is given", "%(found)d are given", found) % {"found": found} if found else _("none is given")
    )
    return f"{text}, {given}."


def answer_said(line: Any) -> tuple[str, bool]:
    """What was answered at a line of a look, and whether that is good with all the values that it wants."""
    said = line.answer.said if line.answer is not None else LEFT
    wanted = line.item.spots if line.item is not None and line.item.quantity else 0
    found = len(line.readings)
    if said != GOOD or found >= wanted:
        return str(SAID[said]), said == GOOD
    text = _("good, %(found)d of %(wanted)d values") if found else _("good, no value")
    return text % {"found": found, "wanted": wanted}, False


def gone_through(payload: Mapping[str, Any]) -> Iterator[str]:
    """Checklist, version 2: 5 good, 1 not good."""
    if not payload.get("answers"):
        return
    try:
        counts = Counter(one.said for one in read_answers(payload["answers"]))
    except ValueError:
        yield _("What it says of a checklist cannot be read.")
        return
    told = ", ".join(f"{counts[said]} {SAID[said]}" for said in SAID if counts[said])
    version = payload.get("checklist")
    text = _("Checklist, version %(version)d: %(told)s.") if version else _("Checklist: %(told)s.")
    yield text % {"version": version, "told": told}
