"""A trim mask is held with what was written of it: the cross of tape, and pictures for whoever looks at it."""

from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_safe

from shared.access import can_log, needs
from tooling.calc.entry import SPOILING
from tooling.models import Entry
from tooling.services.deeds.alongside import in_place_of
from tooling.services.deeds.unseen import hold_of
from tooling.views.deeds.base import asked, entry_of, on_the_floor, page, strip_for, to_tool
from tooling.views.entry_pictures import marked, more_pictures
from tooling.views.pin import takes_pin
from trimfixtures.forms.deeds.cut_into import CutIntoForm
from trimfixtures.selectors.in_doubt import in_doubt
from trimfixtures.services.deeds.cut_into import said_of
from trimfixtures.views.deeds.kinds import TRIM_MASKS
from trimfixtures.words.cautions import jumped
from trimfixtures.words.outcomes import INTO


@needs(can_log)
@never_cache
@takes_pin
@require_safe
def tape_cross(request, code, number):
    """What holds it since that entry, with its pictures; once it is held no longer, the tool's page is the place."""
    on = on_the_floor(code, TRIM_MASKS)
    written = in_place_of(entry_of(on, number))
    hold = hold_of(written)
    if hold is None or Entry.objects.filter(voids=written).exists() or not on.summary.held_since:
        return to_tool(on)
    more = more_pictures(request.user, hold)
    doubt = in_doubt(on.tool, on.at, on.shop.zone, request.user.units)
    spoiled = written.payload.get("outcome") in SPOILING
    form = CutIntoForm(**asked(request, on)) if spoiled else None
    about = {"doubt": doubt, "entry": written, "hold": hold, "marked": marked(hold, request.user), "more": more}
    about |= {"into": INTO.items(), "chosen": said_of(written), "jumped": jumped() if spoiled else None}
    return page(request, "trimfixtures/deeds/tape_cross", on, form, **about, **strip_for(request, on.tool, on.shop))
