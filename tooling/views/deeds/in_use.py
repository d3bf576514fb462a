"""A tool comes into use: accepted when it is made, or brought back after it was retired."""

from django.contrib import messages
from django.utils.translation import gettext as _

from shared.access import can_lead
from shared.errors import Refused
from tooling.forms.deeds.acceptance import AcceptForm
from tooling.forms.deeds.in_use import ReinstateForm
from tooling.models import May, Summary
from tooling.selectors.acceptance import last_revision, may_accept
from tooling.selectors.floor import floor, holds_said, standing_entries
from tooling.selectors.in_making import line_of_tool
from tooling.selectors.rights import who_might
from tooling.selectors.step_line import LATER, NEXT
from tooling.services import deeds
from tooling.services.pictures import store
from tooling.views.deeds.base import asked, deed, on_the_floor, page, to_tool
from tooling.views.deeds.given import with_pictures
from tooling.words.holds import since


@deed(may_accept)
def accepted(request, code):
    """It is made, or brought back, and is taken into use. What its last step and its plug say is asked about."""
    on = on_the_floor(code)
    waits = on.summary.making or on.summary.accept_again
    amiss = "" if waits else _("It is in use already: there is nothing to accept.")
    plug = _on_its_plug(on)
    unsure = on.summary.making and bool(on.summary.step or plug)
    about = {"tool": on.tool, "revision": last_revision(on.tool)}
    form = AcceptForm(**asked(request, on), **about, amiss=amiss, unsure=unsure)
    if form.is_valid():
        with form.told():
            pictures, lost = _evidence(form)
            entry = form.write_down(deeds.accept_on_evidence, on.tool, pictures=pictures, **form.facts())
            _say(request, on, lost)
            return to_tool(on) if pictures else with_pictures(request, entry, form, to_tool(on))
    holds = holds_said(on).get(on.tool.pk, [])
    may = who_might(May.ACCEPT, form.today) if form.formal else None
    about = {"amiss": amiss, "plug": plug, "holds": holds, "may": may, "left": _steps_left(on)}
    about["lacks_right"] = may is not None and not request.user.is_station and not _is_among(request.user, may)
    return page(request, "accepted", on, form, **about)


def _is_among(person, may):
    return not may.asked or any(one.pk == person.pk for one, _right in may.people)


def _steps_left(on):
    """The steps of its line behind the one that it is at, of which nothing is written."""
    line = line_of_tool(on.tool, making=True) if on.summary.making and on.summary.step else None
    ahead = line.steps if line is not None else ()
    return [one.name for one in ahead if one.stands in (NEXT, LATER) and one.by_entry != "accepted"]


def _on_its_plug(on):
    """The plug that it is made from, while something is on that."""
    plug = floor(on.tool.made_from, on.at) if on.tool.made_from is not None else None
    return plug if plug is not None and plug.part_in is not None else None


def _evidence(form):
    """The pictures that an acceptance is refused without, stored before it is written, and why others are not.

    Refuses where none is one.
    """
    if not form.formal or not form.did_pass or form.was_sent or form.looking:
        return [], []
    stored, wrong = [], []
    for file in form.cleaned_data["pictures"]:
        try:
            stored.append(store(file))
        except Refused as why:
            wrong.append(why.message)
    if not stored:
        raise Refused(" ".join(dict.fromkeys(wrong)), "pictures")
    return stored, wrong


def _say(request, on, lost):
    """What became of the cross on it, and of pictures that are none."""
    for why in dict.fromkeys(lost):
        messages.error(request, _("It is written, but a picture is not with it. %(why)s Send it again.") % {"why": why})
    if on.summary.held_since and Summary.objects.filter(tool=on.tool, held_since=None).exists():
        messages.success(request, _("Take the cross and its held tag off now."))


@deed(can_lead)
def reinstated(request, code):
    """It was taken out of use, and is brought back: held until somebody has looked at it."""
    on = on_the_floor(code)
    amiss = "" if on.summary.retired else _("It is not retired: there is nothing to bring back.")
    form = ReinstateForm(**asked(request, on), amiss=amiss)
    if form.is_valid():
        with form.told():
            form.write_down(deeds.reinstate, on.tool, reason=form.cleaned_data["reason"].strip())
            return to_tool(on)
    return page(request, "reinstated", on, form, amiss=amiss, why=_why_retired(on))


def _why_retired(on):
    """Why it was retired, and what held it by then, each with its day and person."""
    retired = [since(one, on.at, on.shop.zone) for one in standing_entries(on.tool, "retired", most=1)]
    return [*retired, *(one.words for one in holds_said(on).get(on.tool.pk, ()))]
