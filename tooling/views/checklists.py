"""The checklists of each kind, which a lead keeps and everybody reads; and each version as it was."""

from typing import Any
from urllib.parse import urlencode

from django.contrib import messages
from django.core.exceptions import PermissionDenied
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_safe

from shared.access import can_lead, can_read, needs
from shared.clock import now
from shared.errors import Refused
from shared.keep_typed import keeps_typed, typed_before
from tooling.forms.checklists import ChecklistForm, Row
from tooling.models import Kind, Purpose
from tooling.selectors.checklists import version_of, versions
from tooling.services.checklists import STARTERS, Item, add_starter, is_starter, items_of, last_version, set_items
from tooling.services.deeds.undo import RUB_OUT_WITHIN
from tooling.views.frame import framed
from tooling.words.readings import MEASURABLE, OFFERED_UNITS
from tooling.words.terms import KINDS, term


@keeps_typed
@needs(can_read)
@require_http_methods(["GET", "HEAD", "POST"])
def checklists(request: HttpRequest) -> HttpResponse:
    """The checklist of a kind (`?kind=`) and purpose (`?for=`); for a lead one form, whose button says what is done."""
    kind, purpose = request.GET.get("kind", ""), request.GET.get("for", "")
    kind = kind if kind in Kind.values else Kind.MOLD.value
    purpose = purpose if purpose in Purpose.values else Purpose.LOOK_OVER.value
    stands = items_of(last_version(kind, purpose))
    if request.method != "POST":
        if (before := typed_before(request)) is not None and (typed := ChecklistForm(before)).typed:
            messages.warning(request, _("Not written yet: this was typed before signing in."))
            return _page(request, kind, purpose, [Row(one) for one in typed.items()], typed.read)
        return _page(request, kind, purpose, [Row(one) for one in stands])
    if not can_lead(request.user):
        raise PermissionDenied
    form = ChecklistForm(request.POST)
    try:
        return _done(kind, purpose, form, request)
    except Refused as refused:
        rows = form.refused(refused)
        if not form.is_marked:
            messages.warning(request, refused.message)
        return _page(request, kind, purpose, rows, form.read if form.is_marked else None)


def _done(kind: str, purpose: str, form: ChecklistForm, request: HttpRequest) -> HttpResponse:
    """Does what the button says. What was changed can be put back for five minutes, as one version more."""
    by, at = request.user, now()
    if form.name == "starter":
        add_starter(kind, purpose, by=by, at=at)
        messages.success(request, _("Begun. They are common practice without a source: make them the shop’s own."))
        return redirect(_at(kind, purpose))
    last = last_version(kind, purpose)
    if form.name == "put_back":
        if last is None or form.number != last.version or not _is_new(last, at):
            raise Refused(_("It was changed since, or five minutes are over: change it here."))
        set_items(kind, purpose, items_of(version_of(kind, purpose, last.version - 1)), by=by, at=at)
        return redirect(_at(kind, purpose))
    read = items_of(version_of(kind, purpose, form.read))
    kept = set_items(kind, purpose, form.items(), by=by, at=at, read=read)
    changed = kept is not None and (last is None or kept.version != last.version)
    return redirect(_at(kind, purpose, changed=kept.version if changed and kept is not None else None))


def _is_new(version: Any, at: Any) -> bool:
    return bool(at - version.valid_from <= RUB_OUT_WITHIN)


def _at(kind: str, purpose: str, changed: int | None = None) -> str:
    said = {"kind": kind, "for": purpose, **({"changed": changed} if changed else {})}
    return f"{reverse('checklists')}?{urlencode(said)}"


def _page(request: HttpRequest, kind: str, purpose: str, rows: list[Row], read: int | None = None) -> HttpResponse:
    """`read`: the version that the rows were typed over; where somebody was told of a newer one, it is that."""
    frame, found = framed(), versions(kind, purpose)
    last = found[0] if found else None
    stands: list[Item] = [row.item for row in rows]
    asked = request.GET.get("changed", "")
    is_changed = last is not None and asked == str(last.version) and _is_new(last, frame["now"])
    context: dict[str, Any] = {
        **_about(kind, purpose),
        "may_lead": can_lead(request.user),
        "kinds": [(value, term(KINDS, value), value == kind) for value in Kind.values],
        "purposes": [(value, label, value == purpose) for value, label in Purpose.choices],
        "rows": rows,
        "last": last,
        "versions": found,
        "common": is_starter(kind, purpose, stands),
        "starter": [] if rows else STARTERS[kind, purpose],
        "quantities": list(MEASURABLE),
        "units": OFFERED_UNITS,
        "read": read if read is not None else (last.version if last is not None else 0),
        "changed": last.version if is_changed and last is not None else None,
    }
    return render(request, "tooling/checklists.html", {**context, **frame})


@needs(can_read)
@require_safe
def checklist_version(request: HttpRequest, kind: str, purpose: str, version: int) -> HttpResponse:
    """One version as it was, for whoever reads what an entry answered."""
    found = version_of(kind, purpose, version) if version < 10**9 else None
    if found is None:
        raise Http404
    following = version_of(kind, purpose, version + 1)
    context = {**_about(kind, purpose), "version": found, "items": items_of(found), "following": following}
    return render(request, "tooling/checklist_version.html", {**context, **framed()})


def _about(kind: str, purpose: str) -> dict[str, Any]:
    return {"kind": kind, "kind_said": term(KINDS, kind), "purpose": purpose, "purpose_said": Purpose(purpose).label}
