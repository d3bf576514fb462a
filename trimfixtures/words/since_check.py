"""What a check that failed found, and which parts were cut since one passed."""

from collections.abc import Iterator
from datetime import datetime, tzinfo
from typing import Any

from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from tooling.words.sizes import worked
from tooling.words.when import moment
from trimfixtures.words.edge_checks import found, judged


def cut_since(since: Any, now: datetime, zone: tzinfo) -> str:
    """45 parts were cut since a check passed, Wed 3 Jun 10:10."""
    if since.passed_at is None:
        text = ngettext(
            "%(n)d part was cut, and no check ever passed.",
            "%(n)d parts were cut, and no check ever passed.",
            since.count,
        )
        return text % {"n": since.count}
    text = ngettext(
        "%(n)d part was cut since a check passed, %(when)s.",
        "%(n)d parts were cut since a check passed, %(when)s.",
        since.count,
    )
    return text % {"n": since.count, "when": moment(since.passed_at, now, zone)}


def without(of: Any) -> str:
    """Behind the serial numbers of a part: how many are not named."""
    said = []
    if of.more:
        said.append(ngettext("%(n)d more", "%(n)d more", of.more) % {"n": of.more})
    if of.without:
        text = ngettext("%(n)d without a serial number", "%(n)d without a serial number", of.without)
        said.append(text % {"n": of.without})
    return ", ".join(said)


def points_out(check: Any, units: str) -> Iterator[str]:
    """Each point of a check that was out, and by how much: port: −0.34 mm, out: cut too deep; tolerance ±0.3 mm."""
    for point in check.out:
        said = [found(point, units), judged(point, out=True, limit=check.limit)]
        text = f"{point.name}: {', '.join(one for one in said if one)}"
        if point.deviation is not None and check.limit is not None:
            text = _("%(found)s; tolerance ±%(limit)s") % {"found": text, "limit": worked(check.limit, units)}
        yield f"{text}."


def failed(check: Any, now: datetime, zone: tzinfo) -> str:
    """Its last check failed, Tue 3 Jun 10:10: what is out."""
    return _("Its last check failed, %(when)s.") % {"when": moment(check.at, now, zone)}
