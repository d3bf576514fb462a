"""A mold insert goes into a mold and comes out, written at either of them."""

from django.contrib import messages
from django.utils.translation import gettext as _

from tooling.forms.deeds.inserts import InstalledForm, RemovedForm
from tooling.models import Kind, Tool
from tooling.selectors.inserts import inside, likely
from tooling.selectors.put_in import bench_first
from tooling.services import deeds
from tooling.views.deeds.base import asked, deed, on_the_floor, page, to_tool

_KINDS = Kind.TAKES_INSERTS | {Kind.INSERT}


@deed()
def installed(request, code):
    """Which goes into which: the likely ones are named first; `which` in the address is the one that is proposed."""
    on = on_the_floor(code, _KINDS)
    form = InstalledForm(**asked(request, on), tool=on.tool, initial={"which": request.GET.get("which", "")})
    if form.is_valid():
        insert, mold = form.insert_and_mold()
        with form.told():
            form.write_down(deeds.install, insert, mold=mold)
            if on.tool != insert:
                said = {"insert": insert.code, "mold": mold.code}
                messages.success(request, _("%(insert)s is in %(mold)s now.") % said)
            return to_tool(on)
    picked = form["which"].value()
    first = bench_first(on.row) if on.row is not None and on.tool.kind == Kind.INSERT else ""
    found = _with(picked, likely(on.tool), form.wanted)
    return page(request, "installed", on, form, likely=found, picked=picked, first=first)


def _with(proposed, found, kind):
    """What was proposed stands among the likely ones, also where it never was together with the tool."""
    if not proposed or proposed in {one.code for one in found} or "\x00" in proposed:
        return found
    return [*Tool.objects.called(proposed).filter(kind=kind).select_related("summary__in_mold_of"), *found]


@deed()
def removed(request, code):
    """Which came out, and whether it stayed in the part."""
    on = on_the_floor(code, _KINDS)
    form = RemovedForm(**asked(request, on), tool=on.tool)
    if form.is_valid():
        with form.told():
            form.write_down(deeds.remove, form.insert, serial=form.cleaned_data["serial"])
            if on.tool != form.insert:
                messages.success(request, _("%(insert)s is out now.") % {"insert": form.insert.code})
            return to_tool(on)
    within = inside(on.tool) if on.tool.kind != Kind.INSERT else []
    only = within[0].code if len(within) == 1 else ""
    picked = form["which"].value() or only if "which" in form.fields else ""
    return page(request, "removed", on, form, likely=within, picked=picked)
