"""How a trim mask stands that may be used: its stage, and how many parts are cut before its next check."""

from typing import Any

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy, ngettext

from tooling.words.counting import capital
from tooling.words.status import Sentence
from trimfixtures.models import Stage

_ON_TAGS = {
    Stage.ROUGH: gettext_lazy("For the rough cut"),
    Stage.AFTER_POST_CURE: gettext_lazy("For the cut after post-cure"),
    Stage.NET: gettext_lazy("For the net cut"),
}


def to_next_check(checked: Any) -> str:
    """12 parts to its next check; "" where none is counted."""
    if checked.wanted:
        return _("a check of its cut edge is wanted")
    if checked.left is None:
        return ""
    text = ngettext("%(n)d part to its next check", "%(n)d parts to its next check", checked.left)
    return text % {"n": checked.left}


def by_record(checked: Any) -> Sentence:
    """Usable by its record: 12 parts to its next check; look at it before the cut."""
    tail = "; ".join(filter(None, (to_next_check(checked), _("look at it before the cut"))))
    return Sentence(_("Usable by its record"), tail)


def stands(checked: Any, mask: Any) -> str:
    """Net cut, 12 parts to its next check. That one is wanted is said beside it, with why."""
    stage = mask.get_stage_display() if mask is not None else ""
    said = ", ".join(filter(None, (stage, "" if checked.wanted else to_next_check(checked))))
    return f"{capital(said)}." if said else ""


def on_tag(mask: Any) -> str:
    """For the net cut."""
    return str(_ON_TAGS[mask.stage])
