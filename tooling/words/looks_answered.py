"""What a line of the history says of a checklist that was gone through."""

from collections import Counter
from collections.abc import Iterator, Mapping
from typing import Any

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy as later

from tooling.calc.answers import GOOD, LEFT, NOT_GOOD, read_answers

SAID = {GOOD: later("good"), NOT_GOOD: later("not good"), LEFT: later("not looked at")}
# The two answers to "May it be used?": of a tool that is held, of one that is not, of one that is to be accepted.
IF_HELD = [("yes", later("yes, free it")), ("no", later("no, it stays held"))]
IF_NOT_HELD = [("yes", later("yes, it passed")), ("no", later("no, hold it"))]
IF_ACCEPTED = [("yes", later("yes, it is accepted")), ("no", later("not yet, it is held"))]


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
