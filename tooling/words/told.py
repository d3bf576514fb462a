"""What was told to the lead, in one line."""

from datetime import datetime, tzinfo
from typing import Any

from django.utils.text import Truncator
from django.utils.translation import gettext as _

from tooling.words.when import when

# As much of it as stands in one line or two; the history has the rest.
_LONGEST = 120


def told_to_lead(entry: Any, now: datetime, zone: tzinfo) -> str:
    """When, and the words; a picture without words says so."""
    words = Truncator(" ".join(str(entry.payload.get("note", "")).split())).chars(_LONGEST)
    said = {"when": when(entry.at, now, zone), "words": words or _("no words, look at the picture")}
    return _("Told to the lead, %(when)s: %(words)s") % said
