"""Looking at a tool: its checklist, what was measured, and whether it may be used."""

from django.contrib import messages
from django.utils.translation import gettext as _

from tooling.forms.deeds.looked import LookedAtForm
from tooling.models import Summary
from tooling.selectors.acceptance import may_accept
from tooling.selectors.defects import open_defects
from tooling.selectors.floor import held_by, holds_said
from tooling.selectors.held_now import who_may_free
from tooling.selectors.looking import beside
from tooling.services import deeds
from tooling.views.deeds.base import asked, deed, on_the_floor, page, strip_for, to_tool
from tooling.views.deeds.given import with_pictures


@deed()
def looked_at(request, code):
    """Somebody has looked: it may be used, or it stays held."""
    on = on_the_floor(code)
    holds = holds_said(on).get(on.tool.pk, [])
    stopped = held_by(on)
    about = {"defects": open_defects(on.tool, on.at), "holds": {hold.entry.pk for hold in holds}}
    about |= {"held": on.summary.held_since is not None, "stopped": {one.pk for one in stopped}}
    form = LookedAtForm(**asked(request, on), tool=on.tool, **about)
    if form.is_valid():
        with form.told():
            entry = form.write_down(deeds.look, on.tool, to_free=True, **form.facts())
            _say(request, on, holds, form.did_pass)
            return with_pictures(request, entry, form, to_tool(on))
    both = bool(holds) and (on.summary.accept_again or on.summary.making) and may_accept(request.user)
    strip = strip_for(request, on.tool, on.shop)
    around = {**_about(on, stopped), "beside": beside(on, request.user), **strip}
    return page(request, "looked_at", on, form, **around, holds=holds, both=both)


def _say(request, on, holds, passed):
    """What became of each hold."""
    for hold in holds:
        text = _("No longer holds it: %(hold)s") if passed else _("Still holds it: %(hold)s")
        messages.success(request, text % {"hold": hold})
    if holds and Summary.objects.filter(tool=on.tool, held_since=None).exists():
        messages.success(request, _("Take the cross and its held tag off now."))


def _about(on, stopped):
    """Who stopped it, and who may free it."""
    could = who_may_free(on.at, on.shop).people if on.summary.held_since and on.shop.formal_records else ()
    return {"held_by": stopped, "could": [one for one, _right in could if one not in stopped]}
