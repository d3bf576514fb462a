"""Several tools coated in one go: which wait for the same, then their one clock and one button.

The batch is in the address, so it survives a reload and another person can open it.
"""

from typing import Any
from uuid import UUID

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.http import urlencode
from django.utils.translation import gettext as _
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_POST, require_safe

from shared import clock
from shared.access import can_log, needs
from shared.errors import Refused
from shared.keep_typed import typed_before
from tooling.forms.deeds.surface import TogetherForm, ago_in, uuid_in
from tooling.models import Entry, Tool
from tooling.selectors import scans
from tooling.selectors.tins import open_tins
from tooling.selectors.together import MOST, Together, Waiting, together, waiting, written_lately
from tooling.services import deeds, wiping
from tooling.services.deeds.together import NotAll
from tooling.views.deeds.base import deed
from tooling.views.frame import framed
from tooling.views.pin import takes_pin
from tooling.views.same_hand import asks_same_hand

_WRITTEN_HERE = ("sealer", "coat", "film")
# No code of a tool is longer.
_LONGEST = 40


@needs(can_log)
@never_cache
@require_safe
def coats(request: HttpRequest) -> HttpResponse:
    """What waits for the same coat, and is gone on with. `recipe` and `tool` put theirs first.

    Who comes from a tool finds only those ticked that wait with it, of its recipe.
    """
    frame = framed()
    recipe, first = request.GET.get("recipe", ""), set(request.GET.getlist("tool"))
    groups = [(one, _is_of(one, first), recipe in ("", one.recipe.system.code)) for one in waiting(frame["now"])]
    groups.sort(key=lambda found: (not found[1], not found[2], len(found[0].members) < 2))
    with_it = [one for one, is_its, _same in groups if is_its and len(one.members) > 1]
    shown = [(one, is_its if with_it else same and not first) for one, is_its, same in groups]
    alone = sorted(first)[0] if first and not with_it else ""
    return render(request, "tooling/deeds/coats.html", {"groups": shown, "alone": alone[:_LONGEST], **frame})


def _is_of(group: Waiting, codes: set[str]) -> bool:
    return any(member.code in codes for member in group.members)


@deed()
def coats_together(request: HttpRequest) -> HttpResponse:
    """The tools of the address: each with its tape and times, one clock, and one button for all of them."""
    added = request.GET.get("add", "").strip()
    if added:
        return _added(request, added)
    kept = typed_before(request)
    data = request.POST if request.method == "POST" else kept
    codes = (data if data is not None and "tool" in data else request.GET).getlist("tool")
    batch = together(codes, clock.now())
    form = TogetherForm(data, tools=batch.keys, kept=kept is not None, who=request.user, shop=batch.shop, now=batch.at)
    refused: dict[str, str] = {}
    if form.is_valid():
        with form.told():
            try:
                _coat(batch, form)
                return redirect(address(batch.codes))
            except NotAll as not_all:
                refused = not_all.by_tool
                said = _("Nothing was written on any of them. Leave out what cannot be coated, or mend it.")
                raise Refused(said) from not_all
    if form.looking:
        return render(request, "tooling/deeds/_would.html", {"form": form})
    given = {**live(request, batch), "form": form, "refused": refused, "batch": batch}
    return render(request, "tooling/deeds/together.html", given)


def _coat(batch: Together, form: TogetherForm) -> None:
    """One more coat on each; refused as a whole where one cannot have it."""
    other = {
        one.code: _("It is on another recipe: coat it by itself.")
        for one in batch.members
        if one.recipe is not None and one.recipe != batch.recipe and not form.was_sent
    }
    strange = {code: _("There is no tool of this code.") for code in batch.unknown}
    if other or strange:
        raise NotAll({**other, **strange})
    if not batch.members:
        raise Refused(_("No tool is left. Choose some first."))
    known = Tool.objects.in_bulk(batch.keys)
    tools = [known[key] for key in batch.keys]
    form.write_down(deeds.coat_together, tools, what=form.what_went_on, **form.facts())


def _added(request: HttpRequest, text: str) -> HttpResponse:
    """One more tool, scanned or typed."""
    codes = request.GET.getlist("tool")
    tool = scans.tool(text)
    if tool is None:
        messages.warning(request, _("There is no tool %(code)s.") % {"code": scans.code_on(text)})
    elif not tool.has_surface:
        messages.warning(request, _("%(code)s is a trim mask: it has no release surface.") % {"code": tool.code})
    elif len(codes) >= MOST:
        messages.warning(request, _("More than %(most)d tools are too many for one go.") % {"most": MOST})
    else:
        codes = [*codes, tool.code]
    return redirect(address(codes))


def address(codes: Any) -> str:
    """The address of these tools, that another person can open as well."""
    return f"{reverse('coats_together')}?{urlencode({'tool': list(dict.fromkeys(codes))}, doseq=True)}"


def live(request: HttpRequest, batch: Together) -> dict[str, Any]:
    """What changes on the page while it is looked at."""
    recipe = batch.recipe
    step = batch.step or "coat"
    others = {one.code: address(code for code in batch.codes if code != one.code) for one in batch.members}
    return {
        "batch": batch,
        "step": step,
        "rows": [(one, others[one.code]) for one in batch.members],
        "without": [(code, address(batch.codes)) for code in batch.unknown],
        "query": urlencode({"tool": batch.codes}, doseq=True),
        "tins": open_tins(request.user, recipe.system.code) if recipe is not None else {},
        "written": written_lately(batch.keys, request.user, batch.at),
        "shop": batch.shop,
        "now": batch.at,
        "zone": batch.shop.zone,
    }


@needs(can_log)
@never_cache
@require_safe
def together_now(request: HttpRequest) -> HttpResponse:
    """The pieces of that page that others change."""
    batch = together(request.GET.getlist("tool"), clock.now())
    return render(request, "tooling/deeds/_together_now.html", live(request, batch))


@needs(can_log)
@require_POST
def together_wiped(request: HttpRequest) -> HttpResponse:
    """The last coat of each was wiped."""
    batch = together(request.POST.getlist("tool"), clock.now())
    found = [one.coat for one in batch.unwiped if one.coat is not None]
    who = None if request.user.is_station else request.user
    wiping.wipe(found, by=who, recorded_by=request.user, ago=ago_in(request.POST), token=uuid_in(request.POST))
    return redirect(address(batch.codes))


@needs(can_log)
@takes_pin
@require_POST
def together_rub_out(request: HttpRequest) -> HttpResponse:
    """What was just written on all of them is voided."""
    keys = [int(key) for key in request.POST.getlist("entry") if key.isascii() and key.isdigit() and len(key) < 16]
    token: UUID | None = uuid_in(request.POST)
    codes = request.POST.getlist("tool")
    written = Entry.objects.filter(pk__in=keys[:MOST], tool__code__in=codes[:MOST], kind__in=_WRITTEN_HERE)
    entries = list(written.select_related("tool", "by"))
    # What one form wrote has one pair of hands; whatever else was sent has no business here.
    if token is not None and len({entry.by_id for entry in entries}) == 1:
        what = _("What was written a moment ago on %(codes)s.") % {"codes": ", ".join(one.tool.code for one in entries)}
        asks = asks_same_hand(request, wrote=entries[0].by_id, what=what)
        if asks is not None:
            return asks
        try:
            deeds.rub_out_together(entries, recorded_by=request.user, token=token)
            messages.success(request, _("Rubbed out on all of them. It counts no more."))
        except NotAll as not_all:
            messages.error(request, " ".join(dict.fromkeys(not_all.by_tool.values())))
    return redirect(address(codes))
