"""What goes on the surface and comes off it."""

from django.shortcuts import redirect

from tooling.forms.deeds.surface import FilmForm
from tooling.models import Kind
from tooling.selectors.coats import coating, is_waiting
from tooling.selectors.floor import recent_lots
from tooling.services import deeds
from tooling.views.deeds.base import asked, deed, on_the_floor, page, to_tool
from tooling.views.deeds.coats import live


@deed()
def film(request, code):
    """A film is on."""
    on = on_the_floor(code, Kind.WITH_SURFACE)
    form = FilmForm(**asked(request, on))
    if form.is_valid():
        with form.told():
            form.write_down(deeds.lay_film, on.tool, lot=form.lot_said())
            after = on_the_floor(code, Kind.WITH_SURFACE)
            return redirect("coat", code=on.tool.code) if is_waiting(coating(after)) else to_tool(on)
    return page(request, "film", on, form, lots=recent_lots(on.tool), **live(request, coating(on)))
