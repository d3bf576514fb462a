"""The check of everything that was written: chains, seals, triggers, and what stands beside the entries."""

from collections.abc import Callable, Iterator

from django.db import connection
from django.utils.translation import gettext as _

from tooling.models import triggers
from tooling.services import chain, defect_check, seals
from tooling.services.count_check import disagreements
from tooling.services.findings import Finding
from tooling.services.recheck import differences
from tooling.services.tools import rules

_PARTS = 3


def _silent(done: int, of: int, words: str) -> None:
    """For those who do not want to know."""


def findings(tell: Callable[[int, int, str], None] = _silent) -> Iterator[Finding]:
    """Everything that cannot be as the program wrote it; `tell` hears how many parts are done, and what comes next."""
    for name in triggers.missing(connection):
        yield Finding("", None, _("the trigger %(name)s is absent; migrate lays it again") % {"name": name})
    tell(0, _PARTS, _("Following the chains"))
    yield from chain.verify()
    tell(1, _PARTS, _("Comparing the seals"))
    yield from seals.verify()
    tell(2, _PARTS, _("Folding every history again"))
    yield from differences(rules())
    yield from disagreements()
    yield from defect_check.disagreements()
