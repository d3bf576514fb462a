"""What one tap mends in a count: each thing that can be done, by the word that its button sends."""

import re
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from django.contrib import messages
from django.core.exceptions import PermissionDenied
from django.http import HttpRequest
from django.urls import reverse
from django.utils.http import urlencode
from django.utils.translation import gettext as _

from shared.access import can_lead
from shared.errors import Refused
from tooling.forms.place_counts import MendForm
from tooling.models import CountMark, Found, Place, Tool
from tooling.selectors.moves import before_moving
from tooling.selectors.place_counts import CountPage, where_met
from tooling.services import deeds, place_counts
from tooling.services.deeds.undo import sent_before

_KEY = re.compile(r"[0-9]{1,18}")


@dataclass(frozen=True, slots=True)
class Done:
    """What was written last, to be rubbed out; or where it is asked first, or what the page itself asks first."""

    last: int | None = None
    leads_to: str = ""
    asks: str = ""


@dataclass(frozen=True, slots=True)
class _Asked:
    request: HttpRequest
    page: CountPage
    form: MendForm
    what: str
    said: dict[str, Any]

    @property
    def tool(self) -> Tool:
        tool = Tool.objects.called(self.what).select_related("summary__home").first()
        if tool is None:
            raise Refused(_("There is no tool %(code)s any more.") % {"code": self.what})
        return tool

    @property
    def mark(self) -> CountMark:
        of = self.page.count.marks.filter(found=Found.UNKNOWN)
        mark = of.filter(pk=int(self.what) if _KEY.fullmatch(self.what) else 0).first()
        if mark is None:
            raise Refused(_("This line is in the count no more: somebody has rubbed it out."))
        return mark

    @property
    def hands(self) -> dict[str, Any]:
        return {"by": self.said["by"], "recorded_by": self.said["recorded_by"]}


def mend(request: HttpRequest, page: CountPage, form: MendForm) -> Done:
    """Does what was tapped. Raises Refused."""
    do, what = form.asked
    if do not in _DEEDS:
        raise Refused(_("Tap one of the buttons of the page."))
    return _DEEDS[do](_Asked(request, page, form, what, form.said()))


def _missing(asked: _Asked) -> Done:
    return Done(place_counts.miss(asked.page.count, asked.tool, **asked.said).pk)


def _home(asked: _Asked) -> Done:
    """Taken home; where something speaks against it, the page of the move asks first."""
    tool = asked.tool
    home = tool.summary.home
    if home is None:
        raise Refused(_("%(tool)s has no home.") % {"tool": tool.code})
    doubtful = not sent_before(asked.said["token"]) and before_moving(tool, home, asked.request.user.units)
    if doubtful:
        return Done(leads_to=f"{reverse('move', args=[tool.code])}?{urlencode({'to': home.code})}")
    return Done(deeds.move(tool, place=home, **asked.said).pk)


def _here(asked: _Asked) -> Done:
    _only_leads(asked)
    tool = asked.tool
    place = Place.objects.filter(pk=tool.summary.lies).first()
    if place is None:
        raise Refused(_("Nobody knows where %(tool)s is.") % {"tool": tool.code})
    return Done(deeds.change_home(tool, place=place, **asked.said).pk)


def _this(asked: _Asked) -> Done:
    _only_leads(asked)
    mark, tool = asked.mark, asked.form.cleaned_data.get("tool")
    if tool is None:
        raise Refused(_("Which tool is it? Scan or type its code."))
    place_counts.settle_unknown(
        mark, tool=tool, place=where_met(asked.page, tool, None), says=asked.request.user, **asked.said
    )
    text = _("%(tool)s is found by “%(text)s” from now on.")
    messages.success(asked.request, text % {"tool": tool.code, "text": mark.text})
    return Done()


def _aside(asked: _Asked) -> Done:
    place_counts.put_aside(asked.mark)
    return Done()


def _again(asked: _Asked) -> Done:
    place_counts.put_aside(asked.mark, aside=False)
    return Done()


def _forget(asked: _Asked) -> Done:
    place_counts.forget_unknown(asked.mark, by=asked.said["by"])
    return Done()


def _out(asked: _Asked) -> Done:
    """Met on a shelf, so it is in its mold no more."""
    tool = asked.tool
    if tool.summary.in_mold_of_id is None and not sent_before(asked.said["token"]):
        raise Refused(_("By its history %(tool)s is in no mold any more.") % {"tool": tool.code})
    return Done(deeds.remove(tool, **asked.said).pk)


def _end(asked: _Asked) -> Done:
    """Done. Where much would be missing, it is asked first whether that many are."""
    missing = len(asked.page.to_miss)
    if asked.page.misses_much and asked.what != str(missing):
        return Done(asks="end")
    place_counts.end(asked.page.count, **asked.hands)
    messages.success(asked.request, _("The count is done."))
    return Done()


def _give_up(asked: _Asked) -> Done:
    """Given up. What somebody else has begun is asked about first."""
    begun_by = asked.page.count.begun_by
    if begun_by is not None and begun_by != asked.said["by"] and asked.what != "all-the-same":
        return Done(asks="give-up")
    place_counts.give_up(asked.page.count, by=asked.said["by"])
    messages.success(asked.request, _("Given up: nothing is said to be missing."))
    return Done()


def _go_on(asked: _Asked) -> Done:
    place_counts.take_up_again(asked.page.count, **asked.hands)
    messages.success(asked.request, _("The count goes on."))
    return Done()


def _only_leads(asked: _Asked) -> None:
    if not can_lead(asked.request.user):
        raise PermissionDenied


_DEEDS: dict[str, Callable[[_Asked], Done]] = {
    "missing": _missing,
    "home": _home,
    "here": _here,
    "out": _out,
    "this": _this,
    "aside": _aside,
    "again": _again,
    "forget": _forget,
    "end": _end,
    "give-up": _give_up,
    "go-on": _go_on,
}
