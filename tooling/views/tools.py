"""Find: the list of all tools by words and filters, as a page, as what a keystroke changes of it, and as a table."""

import csv
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from urllib.parse import urlencode

from django.http import HttpRequest, HttpResponse, QueryDict, StreamingHttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.cache import patch_vary_headers
from django.utils.translation import gettext as _
from django.views.decorators.http import require_safe

from shared import clock
from shared.access import can_read, is_station, needs
from shared.snapshot import as_of_one_moment
from tooling.forms.tools import ToolFilter, offered
from tooling.models import Kind, Part, Picture, Shop, Tool
from tooling.selectors import scans
from tooling.selectors.find import respelled, words_in
from tooling.selectors.in_making import steps_now
from tooling.selectors.parts import found as part_found
from tooling.selectors.parts import like as parts_like
from tooling.selectors.pictures import mains
from tooling.selectors.rows import Row
from tooling.selectors.serials.looked_up import offers
from tooling.selectors.tools import Found, every, look, matching, near
from tooling.services.sheets.escapes import guard
from tooling.views.serials import address_of
from tooling.words.lines import Around, about, said_of
from tooling.words.serials import offered as serial_offered
from tooling.words.status import Sentence
from tooling.words.terms import KINDS, term
from tooling.words.when import dated

PAGE = 48  # whole lines of two, three and four pictures
NUMBERED = 3  # parts with the serial number that was written
PARTS = 3  # parts that have the words in number or name


@dataclass(frozen=True, slots=True)
class Shown:
    """A tool in the list: what it is besides its name, its state in words where it has one, its main picture."""

    row: Row
    about: str
    said: Sentence | None
    picture: Picture | None

    @property
    def part_in(self) -> bool:
        """Whether a part lies in it."""
        return self.row.own.in_mold is not None

    @property
    def held(self) -> bool:
        """Whether it is taped off."""
        return self.row.own.status == "held"


@needs(can_read)
@require_safe
@as_of_one_moment
def tools(request: HttpRequest) -> HttpResponse:
    """The tools that were asked for. A code that was typed or scanned and sent off leads to its tool."""
    at, asked = clock.now(), request.GET
    if "go" in asked and (there := _sent_off(asked)):
        return redirect(there)
    if "go" in asked and asked.get("wall") and (there := _no_tool(scans.code_on(asked.get("q", "")))):
        return redirect(there)
    if (
        "go" in asked
        and is_station(request.user)
        and asked.get("wall")
        and (typed := scans.code_on(asked.get("q", "")))
    ):
        return redirect(reverse("wall") + f"?{urlencode({'none': typed})}")
    filters = ToolFilter(asked, at)
    found = _found(filters, asked, at)
    piece = request.htmx and not request.htmx.history_restore_request
    context = _context(filters, found, at) | {"piece": piece}
    if not piece:
        context |= {"offered": offered(), "more": _is_more(filters)}
    reply = render(request, "tooling/_found.html" if piece else "tooling/tools.html", context)
    patch_vary_headers(reply, ["HX-Request"])
    if piece:
        reply["HX-Replace-Url"] = _address("tools", context["kept"])
    return reply


def _sent_off(asked: QueryDict) -> str:
    """Where what was sent off leads: the tool or place whose tag it is, else its address without what is empty."""
    text = asked.get("q", "")
    if (only := scans.tool(text)) is not None:
        return reverse("tool", args=[only.code])
    if (place := scans.tag_of_place(text)) is not None:
        return reverse("open_place", args=[place.code])
    if all(asked.values()):
        return ""
    kept = QueryDict(mutable=True)
    for name, value in asked.items():
        if value and name != "go":
            kept[name] = value
    return _address("tools", kept)


def _no_tool(text: str) -> str:
    """Where what is the code of no tool leads from the wall: the part of that number, else the serial number."""
    part = part_found(text) if text else None
    if part is not None:
        return reverse("part", args=[part.number])
    number = " ".join(text.split())
    return reverse("serial", args=[number]) if offers(number, 1) else ""


def _parts(words: str) -> tuple[list[Part], bool]:
    """The first parts that the words may mean, and whether there are more."""
    found = parts_like(words, PARTS + 1)
    return found[:PARTS], len(found) > PARTS


def _found(filters: ToolFilter, asked: QueryDict, at: datetime) -> Found:
    if not filters.is_valid():
        return Found([], 0, "", "", False)
    said = filters.form.cleaned_data
    where = {"after": asked.get("after", ""), "before": asked.get("before", "")}
    return look(filters.qs, said["q"], at, order=said["sort"] or "code", size=PAGE, **where)


def _context(filters: ToolFilter, found: Found, at: datetime) -> dict[str, object]:
    shop, kept = Shop.current(), _kept(filters)
    around = Around(at, shop.zone)
    words = filters.form.cleaned_data.get("q", "")
    as_list = filters.form.cleaned_data.get("view") == "list"
    pictures = {} if as_list else mains(row.tool.pk for row in found.rows)
    steps = steps_now([row.tool.pk for row in found.rows if row.summary.making])
    return {
        "filters": filters, "form": filters.form, "words": words, "kept": kept, "found": found, "shop": shop,
        "zone": shop.zone, "now": at, "asked": filters.in_words(), "as_list": as_list,
        "filtered": any(name in kept for name in filters.filters),
        "shown": [
            Shown(row, about(row), said_of(row, around, steps=steps), pictures.get(row.tool.pk)) for row in found.rows
        ],
        "before": _address("tools", kept, before=found.before) if found.before else "",
        "after": _address("tools", kept, after=found.after) if found.after else "",
        "table": _address("tools_table", kept), "tags": _address("print_tags", kept, of="find"),
        "anything": bool(found.rows) or Tool.objects.exists(), "meant": _meant(filters, kept),
        "too_short": [filters.form[name].label for name in filters.too_short],
        "parts": _parts(words) if filters.is_valid() else ([], False),
        "numbered": _numbered(words) if filters.is_valid() else [],
        **(_instead(filters, words, kept) if words and not found.rows and filters.is_valid() else {}),
    }  # fmt: skip


def _numbered(text: str) -> list[tuple[str, str]]:
    """What the words are the serial number of, each with its page; where many have it, the choice of them."""
    found = offers(text, NUMBERED)
    if len(found) > NUMBERED:
        number = found[0].number
        return [(_("Serial %(serial)s: several parts have it") % {"serial": number}, reverse("serial", args=[number]))]
    return [(serial_offered(one), address_of(one)) for one in found]


def _kept(filters: ToolFilter) -> QueryDict:
    """What is asked, as it stands in an address: nothing that is empty, and nothing of a page."""
    kept = QueryDict(mutable=True)
    for name in ("q", *filters.filters, "sort", "view"):
        if said := filters.data.get(name, "").strip():
            kept[name] = said
    return kept


def _address(name: str, kept: QueryDict, **more: str) -> str:
    asked = kept.copy()
    for word, value in more.items():
        asked[word] = value
    return reverse(name) + (f"?{asked.urlencode()}" if asked else "")


def _instead(filters: ToolFilter, words: str, kept: QueryDict) -> dict[str, object]:
    """What could have been meant: other spellings with the same filters, tools with a code much like it, no filters."""
    others = [(one, _address("tools", kept, q=one)) for one in respelled(filters.qs, words_in(words))]
    bare = QueryDict(mutable=True)
    bare["q"] = words
    return {"others": others, "near": near(words), "unfiltered": _address("tools", bare)}


def _meant(filters: ToolFilter, kept: QueryDict) -> list[tuple[str, str]]:
    """What is called nearly as a written filter says, each with the same list for it."""
    return [(one, _address("tools", kept, **{name: one})) for name, near in filters.near.items() for one in near]


def _is_more(filters: ToolFilter) -> bool:
    """Whether one of the filters that are folded away is set."""
    folded = ("recipe", "owner", "made_from", "held", "home", "retired", "sort")
    return any(filters.data.get(name) for name in folded)


@needs(can_read)
@require_safe
def table(request: HttpRequest) -> HttpResponse | StreamingHttpResponse:
    """All that was asked for, of every page, as a table of text that any spreadsheet opens."""
    at, filters = clock.now(), ToolFilter(request.GET, clock.now())
    if not filters.is_valid():
        return redirect(_address("tools", _kept(filters)))
    said = filters.form.cleaned_data
    found = every(matching(filters.qs, said["q"]), said["sort"] or "code", at)
    lines = _lines(found, Around(at, Shop.current().zone))
    reply = StreamingHttpResponse(lines, content_type="text/csv; charset=utf-8")
    reply["Content-Disposition"] = 'attachment; filename="tools.csv"'
    return reply


class _Echo:
    """Gives back each line that a csv.writer writes."""

    def write(self, line: str) -> str:
        return line


def _lines(found: Iterator[Row], around: Around) -> Iterator[str]:
    writer = csv.writer(_Echo())
    titles = (
        _("code"), _("kind"), _("name"), _("state"), _("pulls left"), _("pulls in all"), _("last use"), _("home"),
        _("last seen"), _("in the mold"), _("release recipe"), _("owner"),
    )  # fmt: skip
    # A mark of byte order: without it a spreadsheet takes the letters for those of another alphabet.
    yield "\ufeff" + str(writer.writerow(titles))
    for row in found:
        yield str(writer.writerow([guard(cell) for cell in _cells(row, around)]))


def _cells(row: Row, around: Around) -> list[str]:
    tool, summary, said = row.tool, row.summary, said_of(row, around, dates=dated)
    used = summary.last_used_at
    return [
        tool.code,
        term(KINDS, tool.kind),
        tool.name,
        said.whole if said else "",
        str(row.status.pulls_left) if tool.kind in Kind.WITH_SURFACE else "",
        str(summary.total_pulls) if tool.kind in Kind.WITH_SURFACE else "",
        dated(used, around.zone) if used else "",
        summary.home.name if summary.home else "",
        summary.seen_place.name if summary.seen_place else "",
        summary.in_mold_of.code if summary.in_mold_of else "",
        row.recipe.system.code if row.recipe else "",
        tool.owner,
    ]
