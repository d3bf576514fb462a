"""The check of everything that was written: chains, seals, triggers, and what stands beside the entries."""

from collections.abc import Iterator

from django.db import connection
from django.utils.translation import gettext as _

from tooling.models import triggers
from tooling.services import chain, seals
from tooling.services.findings import Finding
from tooling.services.recheck import differences
from tooling.services.tools import rules


def findings() -> Iterator[Finding]:
    """Everything that cannot be as the program wrote it."""
    for name in triggers.missing(connection):
        yield Finding("", None, _("the trigger %(name)s is absent; migrate lays it again") % {"name": name})
    yield from chain.verify()
    yield from seals.verify()
    yield from differences(rules())
