"""What was measured on a tool: one page, as many entries as there are values."""

from django.contrib import messages

from tooling.forms.deeds.measuring import ReadingForm
from tooling.selectors.measured_before import measured_before
from tooling.services import deeds
from tooling.views.deeds.base import asked, deed, on_the_floor, page, to_tool
from tooling.views.deeds.given import with_pictures


@deed()
def reading(request, code):
    """The values of one visit, of any tool. The pictures are of the first spot."""
    on = on_the_floor(code)
    form = ReadingForm(**asked(request, on), before=measured_before(on.tool, on.at, request.user.pk))
    if form.is_valid():
        with form.told():
            entries = form.write_down(deeds.take_readings, on.tool, **form.facts())
            if form.measured.flagged:
                messages.warning(request, form.measured.flagged)
            return with_pictures(request, entries[0], form, to_tool(on))
    return page(request, "reading", on, form)
