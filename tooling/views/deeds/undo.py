"""Taking an entry back: rubbing out what one has just written, and for leads void and correct."""

from django.contrib import messages
from django.shortcuts import redirect
from django.utils.http import url_has_allowed_host_and_scheme
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from shared.access import can_lead
from shared.errors import Refused, TokenReused
from tooling.forms.deeds.undo import CorrectForm, RubOutForm, VoidForm
from tooling.selectors.just_written import flags_of, tell
from tooling.services import deeds
from tooling.services.deeds.undo import may_rub_out
from tooling.services.deeds.unseen import hold_of
from tooling.services.off_taken_back import rub_out_whole, taking_off
from tooling.views.deeds.base import asked, deed, entry_of, on_the_floor, page, to_tool
from tooling.words.off_the_plug import taken_back, taken_off

_ALSO = gettext_lazy("On %(codes)s as well.")


@deed()
def rub_out(request, code, number):
    """One's own entry of the last five minutes is voided; the way back in from signing in writes nothing.

    A station asks the hand that wrote it, so there the address opens a page as well.
    """
    on = on_the_floor(code)
    entry = entry_of(on, number)
    at_station = request.user.is_station
    if request.method != "POST" and not (at_station and may_rub_out(entry, request.user)):
        return to_tool(on)
    form = RubOutForm(
        request.POST if request.method == "POST" else None, who=request.user, wrote=entry.by_id, now=on.at
    )
    if at_station and not form.is_valid():
        return _whose(request, on, entry, form)
    try:
        off = taking_off(entry)
        gone = rub_out_whole(entry, recorded_by=request.user, token=form.stamp)
    except TokenReused:
        raise
    except Refused as refused:
        messages.error(request, refused.message)
    else:
        head = taken_off(off.pull) if off is not None else tell(entry, on.at, on.shop).head
        words = {"entry": head, "who": entry.by}
        if at_station and entry.by is not None:
            text = _("Rubbed out, as by %(who)s: %(entry)s. It counts no more.")
        else:
            text = _("Rubbed out: %(entry)s. It counts no more.")
        _say(request, text % words, [one for one in gone if one.tool_id != entry.tool_id])
        for one in gone:
            if one.kind == "retired":
                messages.info(request, taken_back(one.tool))
    back = _back(request)
    return redirect(back) if back else to_tool(on)


def _back(request):
    """Where the strip of tape stood, where that is a page of this shop."""
    back = request.POST.get("back", "")
    return back if url_has_allowed_host_and_scheme(back, allowed_hosts=None) else ""


def _whose(request, on, entry, form):
    """Asks the hand that wrote it; nothing is wrong before a name was tapped."""
    wrong = form.errors.get("by", []) if "by" in form.data else []
    told = tell(entry, on.at, on.shop, request.user.units)
    return page(request, "rub_out", on, form, entry=entry, told=told, wrong=wrong, back=_back(request))


@deed(can_lead)
def void(request, code, number):
    """The entry never was; or it was on another tool, and is written there in the same step."""
    on = on_the_floor(code)
    entry = entry_of(on, number)
    form = VoidForm(**asked(request, on), written_with=_other_halves(entry))
    if form.is_valid():
        with form.told():
            _take_back(request, form, entry)
            return to_tool(on)
    elif not form.is_bound and not deeds.gone(entry):
        others = list(form.written_with.values())
        form.show(deeds.void_set, entry, others=others, reason=on.tool.code, by=request.user, recorded_by=request.user)
    return _about(request, "void", on, form, entry, held=hold_of(entry) if not deeds.gone(entry) else None)


def _take_back(request, form, entry):
    right = form.cleaned_data["right_tool"]
    written = form.write_down(deeds.void_set, entry, others=form.others, right_tool=right, reason=form.reason)
    if right is None:
        words = _("Void: it stays to be read, struck through.")
    else:
        words = _("Void here, and written on %(tool)s: both say where the other is.") % {"tool": right.code}
    _say(request, words, written[1:])


def _other_halves(entry):
    """What the same form wrote on the other halves; nothing more to take back of what is gone."""
    return () if deeds.gone(entry) else deeds.written_with(entry)


def _say(request, words, others):
    also = ", ".join(dict.fromkeys(one.tool.code for one in others))
    messages.success(request, " ".join(filter(None, (words, also and _ALSO % {"codes": also}))))


@deed(can_lead)
def correct(request, code, number):
    """Another entry stands in its place."""
    on = on_the_floor(code)
    entry = entry_of(on, number)
    surfaces = [on.tool.pk, *(row.tool.pk for row in on.inserts)]
    form = CorrectForm(**asked(request, on), entry=entry, surfaces=surfaces, written_with=_other_halves(entry))
    if form.is_valid():
        with form.told():
            said = {"others": form.others, "reason": form.reason, "changes": form.changes()}
            written = form.write_down(deeds.correct_set, entry, **said)
            _say(request, _("Corrected: both can be read, the new one counts."), written[1:])
            return to_tool(on)
    return _about(request, "correct", on, form, entry)


def _about(request, template, on, form, entry, **more):
    return page(
        request,
        template,
        on,
        form,
        entry=entry,
        told=tell(entry, on.at, on.shop, request.user.units),
        flags=flags_of(entry),
        gone=deeds.gone(entry),
        **more,
    )
