"""The parts in doubt as a table that any spreadsheet opens, and as a sheet of paper."""

from collections.abc import Iterator
from datetime import datetime

from django.conf import settings
from django.http import HttpRequest, HttpResponse
from django.urls import reverse
from django.utils.http import urlencode
from django.utils.text import slugify
from django.utils.translation import gettext as _
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_safe

from shared import clock
from shared.access import can_read, needs
from shared.run.address import is_own
from tooling.models import Shop, Verdict
from tooling.selectors.containment.lines import InDoubt, tell_more
from tooling.selectors.containment.made_since import Containment
from tooling.selectors.serials.made import Part
from tooling.services.containment_sheet import draw
from tooling.services.on_paper import asked_paper
from tooling.views.containment import ONLY, about, since, with_lot
from tooling.views.paper import printed
from tooling.views.table import table_reply
from tooling.words.containment import before
from tooling.words.made import became
from tooling.words.terms import CAME_OFF, term
from tooling.words.when import dated, with_dates


@needs(can_read)
@never_cache
@require_safe
def made_since_table(request: HttpRequest, code: str, number: int) -> HttpResponse:
    """Those in doubt by an entry, a row each."""
    return _table(since(request, code, number))


@needs(can_read)
@never_cache
@require_safe
def lot_made_table(request: HttpRequest, lot: str) -> HttpResponse:
    """Those in doubt by a lot, a row each."""
    return _table(with_lot(lot))


@needs(can_read)
@never_cache
@require_safe
def made_since_sheet(request: HttpRequest, code: str, number: int) -> HttpResponse:
    """Those in doubt by an entry, on paper."""
    return _sheet(request, since(request, code, number))


@needs(can_read)
@never_cache
@require_safe
def lot_made_sheet(request: HttpRequest, lot: str) -> HttpResponse:
    """Those in doubt by a lot, on paper."""
    return _sheet(request, with_lot(lot))


def _sheet(request: HttpRequest, found: Containment) -> HttpResponse:
    at, shop = clock.now(), Shop.current()
    paper = asked_paper(request.GET.get("paper", ""), request.user.units)
    back = about(found.doubt, found.lot, "")
    only = ONLY.get(request.GET.get("coat", ""))
    return printed(
        request,
        lambda: draw(
            found, found.only(only), at=at, shop=shop, who=request.user.name, paper=paper, address=back
        ),
        name=_name(found), at=at, zone=shop.zone, back=back, about=_name(found),
    )  # fmt: skip


def _name(found: Containment) -> str:
    """What the file is called: letters that any disk takes."""
    if found.doubt is None:
        return f"made-lot-{slugify(found.lot) or 'x'}"
    return f"made-since-{found.doubt.tool.code}-{found.doubt.entry.number}"


def _table(found: Containment) -> HttpResponse:
    tell_more(found.lines)
    zone = found.zone
    titles = [
        _("serial"), _("part"), _("revision"), _("tool"), f"{_('laid up')} [{zone}]", _("laid up by"),
        f"{_('pulled or cut')} [{zone}]", _("pulled or cut by"), _("how it came off"), _("what became of it"),
        _("cut against, or out of"), _("while it was stopped"), _("parts [count]"), _("found"),
        f"{_('when')} [{zone}]", _("looked at by"), _("in words"),
        _("its story, opens on this machine only") if is_own(settings.SITE_URL) else _("its story"),
        _("found before that"), _("coat of the lot"),
    ]  # fmt: skip
    return table_reply(_name(found), titles, _rows(found))


def _rows(found: Containment) -> Iterator[list[str]]:
    """A row a part and half; the mark stands in the first of two halves alone, so that the counts can be added up."""
    now = clock.now()
    lay = {False: _("last on"), True: _("under later coats")}
    for line in found.lines:
        for place, part in enumerate(line.parts):
            who = [
                cell
                for fact in (part.lay_up, part.end)
                for cell in ([dated(fact.at, found.zone), found.people.get(fact.by, "")] if fact else ["", ""])
            ]
            yield [
                line.number, part.part, line.revision, part.tool.code, *who, term(CAME_OFF, part.came_off),
                _became(part, found, now), ", ".join(met.tool.code for met in line.met), _("yes") if line.after else "",
                "0" if place else str(line.count), *(_mark(line, found) if not place else [""] * 4), _story(line),
                _before(line, found, now) if not place else "", lay[line.under] if found.under else "",
            ]  # fmt: skip


def _became(part: Part, found: Containment, now: datetime) -> str:
    with with_dates():
        return became(part, found, now)


def _before(line: InDoubt, found: Containment, now: datetime) -> str:
    with with_dates():
        return before(line, found, now)


def _mark(line: InDoubt, found: Containment) -> list[str]:
    one = line.mark
    if one is None:
        return ["", "", "", ""]
    by = one.by.name if one.by is not None else ""
    return [str(Verdict(one.found).label), dated(one.at, found.zone), by, one.words]


def _story(line: InDoubt) -> str:
    """The address of its page; of a part without a number that of the tool."""
    first = line.first
    if not line.number:
        return f"{settings.SITE_URL}{reverse('tool', args=[first.tool.code])}"
    query = {"part": first.part, "tool": first.tool.code} if first.part else {"tool": first.tool.code}
    return f"{settings.SITE_URL}{reverse('serial', args=[line.number])}?{urlencode(query)}"
