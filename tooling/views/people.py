"""People: the list, a new one, and what a lead does for one of them."""

from collections.abc import Callable

from django.conf import settings
from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.cache import never_cache
from django.views.decorators.debug import sensitive_post_parameters
from django.views.decorators.http import require_http_methods, require_safe

from shared import clock
from shared.access import can_lead, needs
from shared.errors import Refused
from shared.run.address import is_own
from tooling.forms.me import SettingsForm
from tooling.forms.people import NewPersonForm, PinForm, RoleForm
from tooling.models import Person
from tooling.selectors import people as asked
from tooling.selectors.rights import rights_of
from tooling.services import invitations, pins
from tooling.services import people as services
from tooling.views.frame import framed
from tooling.words.people import ROLES, way_in
from tooling.words.rights import held


@needs(can_lead)
@require_safe
def people(request: HttpRequest) -> HttpResponse:
    """Everybody: role, and how they come in."""
    frame = framed()
    known = asked.people(frame["now"])
    lacking = asked.lacking_pins(known)
    context = {"lines": [(one, *_said(one, frame)) for one in known], "asks": lacking is not None, "lacking": lacking}
    return render(request, "tooling/people/people.html", {**context, **frame})


@needs(can_lead)
@never_cache
@require_http_methods(["GET", "HEAD", "POST"])
def new_person(request: HttpRequest) -> HttpResponse:
    """Somebody new; with a role the link is made and shown at once."""
    form = NewPersonForm(request.POST if request.method == "POST" else None)
    if form.is_valid():
        try:
            person = services.add_person(**form.cleaned_data)
        except Refused as refused:
            form.told(refused)
        else:
            if person.role:
                return _link(request, person)
            messages.success(request, _("%(name)s can be named now.") % {"name": person.name})
            return redirect("people")
    return render(request, "tooling/people/new_person.html", {"form": form, **framed()})


@needs(can_lead)
@never_cache
@sensitive_post_parameters("pin", "again")
@require_http_methods(["GET", "HEAD", "POST"])
def person(request: HttpRequest, number: int) -> HttpResponse:
    """One of them: role, link, PIN, off and on."""
    one = asked.person(number, clock.now())
    if one is None:
        raise Http404
    do = request.POST.get("do", "") if request.method == "POST" else ""
    role = RoleForm(request.POST if do == "role" else None, initial={"role": one.person.role})
    pin = PinForm(request.POST if do == "pin" else None)
    units = SettingsForm(request.POST if do == "units" else None, initial={"units": one.person.units})
    wrong = ""
    if do:
        try:
            done = _do(request, one.person, do, role, pin, units)
        except Refused as refused:
            wrong, done = refused.message, None
        if done is not None:
            return done
    frame = framed()
    said, role_said = _said(one, frame)
    context = {
        "one": one,
        "said": said,
        "role_said": role_said,
        "role": role,
        "pin": pin,
        "units": units,
        "wrong": wrong,
        "rights": [held(right, frame["zone"]) for right in rights_of(one.person)],
    }
    return render(request, "tooling/people/person.html", {**context, **frame})


def _do(
    request: HttpRequest, one: Person, do: str, role: RoleForm, pin: PinForm, units: SettingsForm
) -> HttpResponse | None:
    """Do what was asked; None where a form has to be filled in again."""
    at = clock.now()
    if do == "invite":
        return _link(request, one)
    asked_form = {"role": role, "pin": pin, "units": units if one.is_station else None}.get(do)
    if do in ("role", "pin", "units") and (asked_form is None or not asked_form.is_valid()):
        return None
    plain: dict[str, tuple[Callable[[], object], str]] = {
        "role": (lambda: services.change_role(one, role=role.cleaned_data["role"], at=at), _("Changed, from now on.")),
        "withdraw": (lambda: invitations.withdraw(one, at=at), _("Taken back: the link opens nothing any more.")),
        "off": (
            lambda: services.switch_off(one, at=at),
            _("%(name)s is signed out everywhere and offered nowhere any more. The histories keep the name."),
        ),
        "on": (lambda: services.switch_on(one), _("%(name)s is back. A new link is the way in.")),
        "pin": (lambda: pins.set_pin(one, pin=pin.cleaned_data["pin"]), _("The PIN is set.")),
        "units": (
            lambda: services.choose_units(one, units.cleaned_data["units"]),
            _("Kept. Numbers are shown and asked in these units at this tablet."),
        ),
        "no-pin": (lambda: pins.take_away(one), _("The PIN is taken away.")),
    }
    if do not in plain:
        return None
    deed, words = plain[do]
    deed()
    messages.success(request, words % {"name": one.name} if "%(name)s" in words else words)
    return redirect("people") if one == request.user else redirect("person", number=one.pk)


def _link(request: HttpRequest, one: Person) -> HttpResponse:
    """Makes a link and shows it, once: it is stored as a digest alone."""
    token = invitations.invite(one, by=request.user, at=clock.now())
    context = {
        "person": one,
        "address": settings.SITE_URL + reverse("join", args=[token]),
        "days": invitations.LASTS.days,
        "only_here": is_own(settings.SITE_URL),
    }
    return render(request, "tooling/people/link.html", {**context, **framed()})


def _said(one: asked.Known, frame: dict) -> tuple[str, object]:
    until = one.link.expires_at if one.link is not None else None
    words = way_in(one.way, one.person.is_station, until, frame["now"], frame["zone"])
    return words, ROLES[one.person.role]
