"""The cut edge is checked: one tap a point. Where it failed the trim mask is held, and a picture is asked for.

Where it passes, and the trim mask is held, the next page is the look that frees it.
"""

from django.contrib import messages
from django.shortcuts import redirect
from django.utils.translation import gettext as _

from tooling.views.deeds.base import asked, deed, on_the_floor, page, strip_for, to_tool
from trimfixtures.forms.deeds.checks import CheckForm
from trimfixtures.selectors.checking import to_check
from trimfixtures.services import deeds
from trimfixtures.views.deeds.kinds import TRIM_MASKS
from trimfixtures.words.cautions import checking


@deed()
def check_edge(request, code):
    """In or out against a master or gauge; with `measured` in the address, deviations and what measured them."""
    on = on_the_floor(code, TRIM_MASKS)
    about = {"to_check": to_check(on.tool, on.at), "measured": "measured" in request.GET}
    form = CheckForm(**asked(request, on), **about)
    if form.is_valid():
        with form.told():
            entry = form.write_down(deeds.check_edge, on.tool, **form.facts())
            if form.flagged:
                messages.warning(request, form.flagged)
            if not entry.payload["passed"]:
                return redirect("tape_cross", code=on.tool.code, number=entry.number)
            if on.summary.held_since:
                text = _("%(code)s passed, and stays held until somebody looks at it and frees it.")
                messages.info(request, text % {"code": on.tool.code})
                return redirect("looked_at", code=on.tool.code)
            return to_tool(on)
    more = {"cautions": [checking()], **strip_for(request, on.tool, on.shop)}
    return page(request, "trimfixtures/deeds/check_edge", on, form, **more)
