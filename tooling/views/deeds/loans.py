"""Who has a tool: lent to somebody, and handed back."""

from tooling.forms.deeds.loans import HandBackForm, LendForm
from tooling.services import deeds
from tooling.views.deeds.base import asked, deed, on_the_floor, page, to_tool
from tooling.views.deeds.given import with_pictures


@deed()
def lend(request, code):
    """To whom and until when; what has a part in it is asked about first."""
    on = on_the_floor(code)
    form = LendForm(**asked(request, on), summary=on.summary)
    if form.is_valid():
        with form.told():
            said = form.cleaned_data
            entry = form.write_down(deeds.lend, on.tool, person=said["person"], until=said["until"])
            return with_pictures(request, entry, form, to_tool(on))
    return page(request, "lend", on, form, cautions=())


@deed()
def hand_back(request, code):
    """It lies where it lay before; where it is put instead, that move alone is enough."""
    on = on_the_floor(code)
    form = HandBackForm(**asked(request, on), summary=on.summary)
    if form.is_valid():
        with form.told():
            entry = form.write_down(deeds.hand_back, on.tool)
            return with_pictures(request, entry, form, to_tool(on))
    return page(request, "hand_back", on, form, cautions=())
