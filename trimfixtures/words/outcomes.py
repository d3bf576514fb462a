"""How a cut against a trim mask went, as it is tapped at the bench."""

from dataclasses import dataclass

from django.utils.functional import Promise
from django.utils.translation import gettext_lazy as _
from django.utils.translation import pgettext_lazy as in_context


@dataclass(frozen=True, slots=True)
class Outcome:
    """The word on its button, and what is meant."""

    word: str | Promise
    means: str | Promise


# Nobody saw anything go wrong, which is no check: the entry says nothing of it.
GOOD = "good"
OUTCOMES = {
    GOOD: Outcome(in_context("how a cut went", "Cut"), _("nothing went wrong that was seen")),
    "gouged": Outcome(_("Gouged"), _("part or trim mask cut into")),
    "slipped": Outcome(_("Slipped"), _("part, trim mask or cutter moved")),
    "off_size": Outcome(_("Out of size"), _("cut well, and it does not fit")),
}
# What a cut that went wrong was cut into, and what becomes of the part.
INTO = {
    "part": Outcome(_("The part"), _("it waits at the trim bench until it is cut again")),
    "trim_mask": Outcome(_("The trim mask"), _("the part is good")),
    "both": Outcome(_("Both"), _("the part waits at the trim bench")),
    "lost": Outcome(_("The part is lost"), _("nothing more is cut of it")),
}
# Of a part that waits at the bench.
_SPOILT = {
    "gouged": _("Gouged with %(code)s, %(when)s: to be looked at."),
    "slipped": _("Slipped with %(code)s, %(when)s: to be looked at."),
}


def spoilt(outcome: str, code: str, when: str) -> str:
    """Why a part that was cut still waits."""
    return str(_SPOILT[outcome]) % {"code": code, "when": when}
