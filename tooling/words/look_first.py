"""Beside what is about to be used: that a look-over of it, or of a mold insert in it, is wanted."""

from datetime import date
from typing import Any

from django.utils.translation import gettext as _


def wanted_by(left: int | None, on: date | None, today: date) -> bool:
    """Whether its pulls or its days are up."""
    return (left is not None and left <= 0) or (on is not None and on <= today)


def look_first(row: Any, today: date) -> str:
    """The sentence for a row; "" where nobody has to look."""
    every = ((one.tool.code, one.summary) for one in (row, *row.inside))
    codes = [code for code, kept in every if wanted_by(kept.look_left, kept.look_on, today)]
    if not codes or codes == [row.tool.code]:
        return _("A look-over is wanted.") if codes else ""
    return _("A look-over is wanted: %(codes)s.") % {"codes": ", ".join(codes)}
