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
