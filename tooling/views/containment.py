"""The parts in doubt by an entry that stopped a tool, or by a lot, and the marks of who looked at them."""

from collections.abc import Callable
from typing import Any

from django.contrib import messages
from django.core.exceptions import PermissionDenied
from django.core.paginator import Paginator
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.translation import gettext as _
from django.utils.translation import ngettext
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_http_methods

from shared.access import can_log, can_read, needs
from shared.errors import Refused
from shared.keep_typed import keeps_typed, typed_before
from shared.snapshot import one_moment
from tooling.forms.containment import BAD, LEFT, SHOWN, MarkForm
from tooling.models import ContainmentMark, Verdict
from tooling.selectors.containment import made_since as asked
from tooling.selectors.containment.doubts import Doubt, doubt_of
from tooling.selectors.containment.lines import InDoubt, tell_more
from tooling.selectors.containment.made_since import Containment
from tooling.services import containment as services
from tooling.views.frame import framed
from tooling.views.pin import takes_pin
from tooling.views.same_hand import asks_same_hand
from tooling.words import containment as words
from tooling.words import lots
from tooling.words.when import minutes_left

PAGE = 60
_BACK = "back"
ONLY = {lots.LAST: False, lots.UNDER: True, lots.ALL_COATS: None}


@keeps_typed
@needs(can_read)
@takes_pin
@never_cache
@require_http_methods(["GET", "HEAD", "POST"])
def made_since(request: HttpRequest, code: str, number: int) -> HttpResponse:
    """What was made since the tool was last looked at, before an entry that stopped it. `of`: a mold insert in it."""
    return _page(request, lambda: since(request, code, number))


@keeps_typed
@needs(can_read)
@takes_pin
@never_cache
@require_http_methods(["GET", "HEAD", "POST"])
def lot_made(request: HttpRequest, lot: str) -> HttpResponse:
    """What was made while a lot lay on a tool."""
    return _page(request, lambda: with_lot(lot))


def since(request: HttpRequest, code: str, number: int) -> Containment:
    """The answer for an entry; 404 where it stops nothing."""
    with one_moment() as at:
        doubt = doubt_of(code, number, request.GET.get("of", "")[:16])
        if doubt is None:
            raise Http404
        return asked.made_since(doubt, at)


def with_lot(lot: str) -> Containment:
    """The answer for a lot; 404 where no entry names it."""
    with one_moment() as at:
        found = asked.lot_made(lot, at)
    if found is None:
        raise Http404
    return found


def about(doubt: Doubt | None, lot: str, name: str) -> str:
    """The address of one of the pages of this answer: "", "_table" or "_sheet"."""
    if doubt is None:
        return reverse(f"lot_made{name}", args=[lot])
    query = {"of": doubt.tool.code} if doubt.tool.pk != doubt.entry.tool_id else {}
    return reverse(f"made_since{name}", args=[doubt.entry.tool.code, doubt.entry.number], query=query)


def which_coat(request: HttpRequest, found: Containment) -> str:
    """Which of the parts of a lot are asked for: unless said, those that met its coat as the last one on."""
    asked_for = request.GET.get("coat", "")
    if asked_for in ONLY:
        return asked_for
    return lots.LAST if found.under < found.count else lots.ALL_COATS


def _page(request: HttpRequest, answer: Callable[[], Containment]) -> HttpResponse:
    if request.method == "POST" and not can_log(request.user):
        raise PermissionDenied
    if request.method == "POST" and request.POST.get("do") == _BACK:
        return _take_back(request)
    found, frame = answer(), framed()
    form = None
    if can_log(request.user):
        kept = typed_before(request)
        form = MarkForm(
            request.POST if request.method == "POST" else kept, kept=kept is not None, who=request.user,
            shop=frame["shop"], now=frame["now"], keys=[line.key for line in found.lines],
        )  # fmt: skip
        if form.is_valid():
            with form.told():
                return redirect(_address(request, _mark(form, found)))
    return _shown(request, found, form, frame)


def _mark(form: MarkForm, found: Containment) -> list[ContainmentMark]:
    data, said = form.cleaned_data, form.said()
    by_key = {line.key: line for line in found.lines}
    parts = [_marked_as(by_key[key]) for key in data["parts"]]
    of = services.Of(found.doubt.root if found.doubt is not None else None, found.lot)
    marked = services.mark(
        of, parts, found=data["found"], words=data["words"],
        **{name: said[name] for name in ("by", "recorded_by", "at", "ago", "token")},
    )  # fmt: skip
    hands = said["by"].pk if said["by"] is not None else None
    return [one for one in marked if one.by_id == hands]


def _marked_as(line: InDoubt) -> tuple[int, str]:
    """A mark that stands keeps to the entry that it was made by, so that a later one takes its place."""
    return (line.mark.use_id if line.mark is not None else line.use), line.serial


def _address(request: HttpRequest, marked: list[ContainmentMark]) -> str:
    """The same page, with what was just marked."""
    query = request.GET.copy()
    query["marked"] = ",".join(str(one.pk) for one in marked)
    return f"{request.path}?{query.urlencode()}"


def _lately(text: str) -> list[ContainmentMark]:
    """The marks that an address or a form names."""
    keys = [int(key) for key in text.split(",") if key.isascii() and key.isdigit() and len(key) < 19][:PAGE]
    return list(ContainmentMark.objects.filter(pk__in=keys).select_related("by")) if keys else []


def _take_back(request: HttpRequest) -> HttpResponse:
    """Rubs out what was just marked; at a station the hand that marked it says so."""
    marks = _lately(request.POST.get("marked", ""))
    if marks:
        asks = asks_same_hand(request, wrote=marks[0].by_id, what=_("What was just marked on parts in doubt."))
        if asks is not None:
            return asks
    try:
        services.take_back(marks, by=request.user, wrote=marks[0].by_id if marks else None)
    except Refused as refused:
        messages.error(request, refused.message)
    else:
        messages.success(request, _("Rubbed out: the mark counts no more."))
    return redirect(_address(request, []))


def _shown(request: HttpRequest, found: Containment, form: MarkForm | None, frame: dict[str, Any]) -> HttpResponse:
    shown = request.GET.get("show", "")
    coats, coat = lots.by_coat(found), which_coat(request, found)
    some = found.only(ONLY[coat])
    rows = some.lines
    if shown == LEFT:
        rows = [line for line in rows if line.mark is None]
    elif shown == BAD:
        rows = [line for line in rows if line.mark is not None and line.mark.found == Verdict.NOT_GOOD]
    page = Paginator(rows, PAGE).get_page(request.GET.get("page"))
    tell_more(list(page.object_list))
    now = frame["now"]
    lately = [one for one in _lately(request.GET.get("marked", "")) if one.taken_back_at is None]
    lately = [one for one in lately if services.may_take_back(one, request.user)]
    context = {
        "title": words.title(found), "asked": found, "why": list(words.why(found, now)), "form": form,
        "counted_as": list(lots.counted_as(found)), "lay_on": list(lots.lay_on(found, now)),
        "of_lots": lots.of_lots(), "looked_at": words.looked_at(found),
        "caution": words.caution(), "page": page, "lines": list(words.lines(page.object_list, some, now)),
        "coats": coats, "coat": coat, "of_these": words.of_these(some) if coats else "",
        "shows": SHOWN, "show": shown, "lately": lately, "lately_said": _lately_said(lately),
        "minutes": _minutes(lately, now), "table": about(found.doubt, found.lot, "_table"),
        "sheet": about(found.doubt, found.lot, "_sheet") + (f"?coat={coat}" if coats else ""), **frame,
    }  # fmt: skip
    return render(request, "tooling/containment.html", context)


def _lately_said(lately: list[ContainmentMark]) -> str:
    if not lately:
        return ""
    good = lately[0].found == Verdict.GOOD
    text = (
        ngettext("%(n)d marked: good.", "%(n)d marked: good.", len(lately))
        if good
        else ngettext("%(n)d marked: not good.", "%(n)d marked: not good.", len(lately))
    )
    return text % {"n": len(lately)}


def _minutes(lately: list[ContainmentMark], now: Any) -> int:
    """For how many more minutes it can be rubbed out."""
    if not lately:
        return 0
    return minutes_left(min(one.recorded_at for one in lately) + services.RUB_OUT_WITHIN, now)
