"""Serial numbers as a table of text that any spreadsheet opens: those of a stretch, or one with its surfaces."""

from collections.abc import Iterator
from datetime import datetime, tzinfo
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.http import require_safe

from shared import clock
from shared.access import can_read, needs
from shared.snapshot import as_of_one_moment
from tooling.forms.serials import KnownForm, StretchForm
from tooling.models import Shop
from tooling.selectors.serials.made import MadeIn, made_in
from tooling.selectors.serials.story import Made, Story
from tooling.views.serials import looked, told_as
from tooling.views.table import table_reply
from tooling.words import serials as words
from tooling.words.made import became
from tooling.words.terms import CAME_OFF, KINDS, term
from tooling.words.when import dated


@needs(can_read)
@require_safe
@as_of_one_moment
def table(request: HttpRequest) -> HttpResponse:
    """A number with the surfaces it lay on, where the address says one; else what a tool made in a stretch."""
    number = request.GET.get("serial", "").replace("\x00", "")
    if number:
        found = looked(number, request.GET)
        if found.one is None:
            return redirect("serial", serial=number)
        zone = Shop.current().zone
        answer = told_as(number, found, KnownForm({}, zone=zone, now=clock.now()))
        return table_reply("serial", _titles_of_one(zone), _rows_of_one(answer.now, zone))
    form = StretchForm(request.GET)
    if not form.is_valid():
        query = request.META.get("QUERY_STRING", "")
        return redirect(reverse("serials") + (f"?{query}" if query else ""))
    data = form.cleaned_data
    made = made_in(data["tool"], data["from"], data["until"])
    return table_reply("serials", _titles_of_many(made.zone), _rows_of_many(made))


def _in_zone(title: str, zone: tzinfo) -> str:
    return f"{title} [{zone}]"


def _titles_of_many(zone: tzinfo) -> list[str]:
    return [
        _("serial"), _("part"), _("tool"), _in_zone(_("laid up"), zone), _("laid up by"), _in_zone(_("pulled"), zone),
        _("pulled by"), _("how it came off"), _("what became of it"), _("parts [count]"), _("without a serial [count]"),
    ]  # fmt: skip


def _rows_of_many(made: MadeIn) -> Iterator[list[str]]:
    """A row a number; the parts without one in a row of their own, so that the counts can be added up."""
    now = clock.now()
    for one in made.parts:
        about = [
            one.part, one.tool.code, *_of_fact(one.lay_up, made), *_of_fact(one.end, made),
            term(CAME_OFF, one.came_off), became(one, made, now),
        ]  # fmt: skip
        for number in one.numbers:
            yield [number, *about, "1", "0"]
        if one.without:
            yield ["", *about, str(one.without), str(one.without)]


def _of_fact(fact: Any, made: MadeIn) -> list[str]:
    return [dated(fact.at, made.zone), made.people.get(fact.by, "")] if fact is not None else ["", ""]


def _titles_of_one(zone: tzinfo) -> list[str]:
    return [
        _("serial"), _("part"), _("tool"), _("kind"), _("in the mold"), _in_zone(_("laid up"), zone), _("laid up by"),
        _("laid up, written down by"), _in_zone(_("pulled"), zone), _("pulled by"), _("pulled, written down by"),
        _("how it came off"), _("release recipe"), _("lots of the coats"), _in_zone(_("last coat"), zone),
        _("lot of the film"), _("state at the lay-up"), _("pulls since the coat at the lay-up [pulls]"),
        _("state at the pull"), _("pulls since the coat at the pull [pulls]"),
    ]  # fmt: skip


def _rows_of_one(story: Story, zone: tzinfo) -> Iterator[list[str]]:
    for made in story.made:
        for surface in made.surfaces:
            yield [*_about(story, surface.tool, made), *_ends(story, made, zone), *_surface(story, surface, zone)]
    for one in story.trimmed:
        entry = story.entry(one.used)
        who = [_name(entry.by), _name(entry.recorded_by)]
        about = [story.named.number, story.named.part, one.tool.code, term(KINDS, one.tool.kind), ""]
        yield [*about, "", "", "", dated(entry.at, zone), *who, *[""] * 9]


def _about(story: Story, tool: Any, made: Made) -> list[str]:
    mold = "" if tool.pk == made.tool.pk else made.tool.code
    return [story.named.number, story.named.part, tool.code, term(KINDS, tool.kind), mold]


def _ends(story: Story, made: Made, zone: tzinfo) -> list[str]:
    cells = []
    for placed in (made.making.lay_up, made.making.end):
        entry = story.entry(placed) if placed is not None else None
        cells += [dated(entry.at, zone), _name(entry.by), _name(entry.recorded_by)] if entry else ["", "", ""]
    return cells


def _surface(story: Story, one: Any, zone: tzinfo) -> list[str]:
    first, coats = one.at_lay_up or one.at_pull, [story.entry(coat) for coat in one.on.coats]
    lots = dict.fromkeys(lot for coat in coats if (lot := coat.payload.get("lot")))
    film = story.entry(one.on.film).payload.get("lot", "") if one.on.film is not None else ""
    return [
        term(CAME_OFF, one.came_off), first.system if first else "", ", ".join(lots), _last(coats, zone), film,
        words.stood(one.at_lay_up, one.tool.kind, zone).whole if one.at_lay_up else "",
        str(one.at_lay_up.status.since_coat) if one.at_lay_up else "",
        words.stood_at_pull(one.at_pull, one.tool.kind, zone) if one.at_pull else "",
        str(one.at_pull.status.since_coat) if one.at_pull else "",
    ]  # fmt: skip


def _last(coats: list[Any], zone: tzinfo) -> str:
    at: datetime | None = coats[-1].at if coats else None
    return dated(at, zone) if at is not None else ""


def _name(person: Any) -> str:
    return person.name if person is not None else ""
