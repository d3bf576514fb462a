"""A mold comes off its plug: which one, then how it came off and where it goes. The last tap writes all of it."""

from django.contrib import messages
from django.core.exceptions import ValidationError
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _

from shared.access import can_lead
from tooling.calc.entry import HARD
from tooling.forms.deeds.off_the_plug import OffForm
from tooling.models import Kind, Tool
from tooling.selectors.off_the_plug import (
    SOURCES,
    built_like,
    coming_off,
    made_before,
    next_code,
    pulled_lately,
    step_off,
)
from tooling.selectors.took import alike
from tooling.selectors.usual import usual_recipes
from tooling.services.deeds import PulledMeanwhile
from tooling.services.off_the_plug import LOST, TooHeavy, take_off
from tooling.views.deeds.base import asked, deed, on_the_floor, page
from tooling.words import off_the_plug as words
from tooling.words.terms import CAME_OFF
from tooling.words.took import so_far

# In an address, where codes are in capitals.
NEW = "new"
# What another one mostly has alike. Not its mass and lift: nobody has weighed the new one.
LIKE = ("name", "construction", "owner", "owner_ref")
# What comes off as something new, the likeliest first.
KINDS = {
    Kind.PLUG: (Kind.MOLD, Kind.INSERT, Kind.TRIM_MASK),
    Kind.MOLD: (Kind.MOLD, Kind.PLUG, Kind.INSERT, Kind.TRIM_MASK),
}


@deed()
def take_off_mold(request, code):
    """The pull is logged on the plug, and what came off is there: in the making, bare and new."""
    on = on_the_floor(code, SOURCES)
    coming = coming_off(on)
    which, kind = _which(request, on, coming)
    off = Tool.objects.called(which).select_related("summary").first() if which not in ("", NEW) else None
    if off is None and not (which == NEW and can_lead(request.user)):
        return _choose(request, on, coming, kinds=KINDS[on.tool.kind])
    form = _form(request, on, off, kind)
    before = pulled_lately(on)
    if form.is_valid():
        try:
            with form.told():
                return _written(request, form, form.write_down(take_off, on.tool, off=off, **form.facts()))
        except PulledMeanwhile as meanwhile:
            before = meanwhile.before
            form.ask_whether_another()
        except TooHeavy as heavy:
            form.ask_heavy(heavy.over, words.too_heavy(heavy.over, request.user.units))
        except ValidationError as wrong:
            form.tell(wrong)
    return _page(request, on, form, off=off, kind=kind, before=before)


def _which(request, on, coming):
    """Which tool it is, and of what kind a new one: as the form says that was sent, else the address."""
    asked_for = request.POST if request.method == "POST" else request.GET
    which, kind = asked_for.get("which"), asked_for.get("kind", "")
    if which is None:
        which = coming.named.code if coming.named is not None else ""
    kinds = KINDS[on.tool.kind]
    return which.replace("\x00", ""), kind if kind in kinds else kinds[0]


def _choose(request, on, coming, kinds):
    """Which one came off: one that is in the making, or something new."""
    about = {"on": on, "tool": on.tool, "shop": on.shop, "now": on.at, "zone": on.shop.zone}
    offers = [(one, words.about(one)) for one in coming.all]
    new = [(kind, words.a_new(kind)) for kind in kinds]
    may_lead = can_lead(request.user)
    context = {**about, "offers": offers, "new": new if may_lead else (), "may_lead": may_lead}
    return render(request, "tooling/deeds/off_which.html", context)


def _form(request, on, off, kind):
    usual = {of: recipe.code for of, recipe in usual_recipes().items()}
    proposed = {"kind": kind}
    if off is None:
        proposed |= {
            "code": next_code(on.tool, kind, on.summary.part),
            "name": words.called_after(on.tool, kind),
            "owner": on.tool.owner,
            "owner_ref": on.tool.owner_ref,
        }
        if (like := _like(request, on, kind)) is not None:
            proposed |= {"code": next_code(on.tool, kind, like=like)} | {name: getattr(like, name) for name in LIKE}
            usual[kind] = str(like.summary.state.get("system") or "")
    step = step_off(off.kind if off is not None else kind, on.tool.kind)
    return OffForm(**asked(request, on), on=on, off=off, proposed=proposed, usual=usual, initial={"step": step})


def _like(request, on, kind):
    """The one before it that it is to be like, where the address names one."""
    asked_for = request.GET.get("like", "")
    return next((one for one in made_before(on.tool, kind) if one.code == asked_for), None)


def _page(request, on, form, *, off, kind, before):
    of_kind = off.kind if off is not None else kind
    known = {
        "marks": [mark for mark in CAME_OFF if mark != LOST],
        "pressed": form["came_off"].value() or "",
        "off": off,
        "which": off.code if off is not None else NEW,
        "kind": of_kind,
        "what": words.a_new(of_kind),
        "before": before,
        "to_lift": words.to_lift(on.tool, off, request.user.units),
        "built": built_like(of_kind) if can_lead(request.user) else (),
        "alike": [(one.tool, so_far(one, request.user.units)) for one in alike(of_kind)[:1]] if off is None else (),
        "before_it": made_before(on.tool, of_kind) if off is None else (),
        "like": request.GET.get("like", ""),
        "may_lead": can_lead(request.user),
    }
    return page(request, "off", on, form, **known)


def _written(request, form, taken):
    """To what came off; after a hard pull to the plug, which somebody has to look at."""
    said = {"tool": taken.tool.code, "source": taken.entry.tool.code}
    messages.success(request, _("%(tool)s is off %(source)s, and in the making.") % said)
    if form.off is None:
        messages.info(request, _("Its tag is on the list to print once it is accepted."))
    if form.cleaned_data["came_off"] in HARD:
        return redirect("seen", code=taken.entry.tool.code, number=taken.entry.number)
    return redirect("tool", code=taken.tool.code)
