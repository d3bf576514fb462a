"""A limit of readings in a list: of what, for which tools, how much."""

from datetime import datetime, tzinfo
from typing import Any, NamedTuple

from django.utils.translation import gettext as _

from tooling.models.fields import plain
from tooling.words.counting import capital
from tooling.words.readings import quantity
from tooling.words.terms import KINDS, term
from tooling.words.when import when


class LimitSaid(NamedTuple):
    """Gloss 60°; every mold, or DECK-2A; at least 70 GU."""

    of: str
    tools: str
    limit: str


def limit_said(row: Any) -> LimitSaid:
    """One row."""
    of = capital(quantity({"quantity": row.quantity, "geometry": row.geometry}))
    tools = row.tool.code if row.tool is not None else _("every %(kind)s") % {"kind": term(KINDS, row.kind)}
    text = _("at most %(limit)s") if row.worse == "up" else _("at least %(limit)s")
    return LimitSaid(of, tools, text % {"limit": f"{plain(row.limit):f} {row.unit}"})


def held_said(row: Any, now: datetime, zone: tzinfo) -> str:
    """Since when it holds, or from when to when it held, and who said so; "" where nobody knows."""
    since, until = (when(at, now, zone) if at is not None else "" for at in (row.since, row.until))
    if until:
        span = _("from %(since)s to %(until)s") if since else _("until %(until)s")
    else:
        span = _("since %(since)s") if since else ""
    said = [span % {"since": since, "until": until}] if span else []
    if row.set_by is not None:
        said.append(_("set by %(who)s") % {"who": row.set_by.name})
    if row.ended_by is not None:
        said.append(_("ended by %(who)s") % {"who": row.ended_by.name})
    return ", ".join(said)
