"""What a cut and a check cannot say: one home for the deeds, corrections and the sheet of the history."""

from collections.abc import Mapping
from decimal import Decimal
from functools import partial
from typing import Any

from django.utils.translation import gettext as _

from shared.errors import Refused
from tooling.calc.check import Refusal
from tooling.services import entry_rules
from tooling.services.refusals import refused
from trimfixtures.services.deeds.uses import is_any_out


def make_known() -> None:
    """Gives them to the ledger and the sheet."""
    for name in ("metres", "minutes"):
        entry_rules.register("used", (name,), partial(_below_zero, name))
    entry_rules.register("check", ("limit_mm", "points", "passed"), _of_a_check)


def _below_zero(name: str, facts: Mapping[str, Any]) -> dict[str, str]:
    number = facts.get(name)
    if number is None or Decimal(number) >= 0:
        return {}
    return {name: refused(Refusal("below_zero", name, number=number)).message}


def _of_a_check(facts: Mapping[str, Any]) -> dict[str, str]:
    """Whether it passed is what its points say, as far as they say it."""
    limit, points = facts.get("limit_mm"), facts.get("points")
    wrong = _below_zero("limit_mm", facts)
    if wrong or not points:
        return wrong
    try:
        out = is_any_out(points, Decimal(limit) if limit is not None else None)
    except Refused as no:
        return {no.field: no.message}
    if out is True and facts.get("passed") is True:
        return {"passed": _("A point is out, so that it did not pass. Write no here, or say what was found.")}
    if out is False and facts.get("passed") is False:
        return {"passed": _("No point is out, so that it passed. Write yes here, or say what was found.")}
    return {}
