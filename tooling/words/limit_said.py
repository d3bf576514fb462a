"""A limit of readings in a list: of what, for which tools, how much."""

from typing import Any, NamedTuple

from django.utils.translation import gettext as _

from tooling.models.fields import plain
from tooling.words.counting import capital
from tooling.words.readings import quantity
from tooling.words.terms import term


class LimitSaid(NamedTuple):
    """Gloss 60°; every mold, or DECK-2A; at least 70 GU."""

    of: str
    tools: str
    limit: str


def limit_said(row: Any, kinds: Any) -> LimitSaid:
    """One row."""
    of = capital(quantity({"quantity": row.quantity, "geometry": row.geometry}))
    tools = row.tool.code if row.tool is not None else _("every %(kind)s") % {"kind": term(kinds, row.kind)}
    text = _("at most %(limit)s") if row.worse == "up" else _("at least %(limit)s")
    return LimitSaid(of, tools, text % {"limit": f"{plain(row.limit):f} {row.unit}"})
