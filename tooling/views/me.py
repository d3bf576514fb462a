"""Your settings: the units you read, and the PIN by which a shared tablet knows your hands."""

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.debug import sensitive_post_parameters
from django.views.decorators.http import require_http_methods

from shared.access import can_choose, needs
from tooling.forms.me import SettingsForm
from tooling.forms.people import PinForm
from tooling.models import Person
from tooling.services import pins
from tooling.services.people import choose_units


@needs(can_choose)
@sensitive_post_parameters("pin", "again")
@require_http_methods(["GET", "HEAD", "POST"])
def settings(request: HttpRequest) -> HttpResponse:
    """In which units somebody reads and types; the PIN of whoever logs deeds."""
    data = request.POST if request.method == "POST" else None
    do = request.POST.get("do", "units") if data is not None else ""
    form = SettingsForm(data if do == "units" else None, initial={"units": request.user.units})
    pin = PinForm(data if do == "pin" else None) if _may_have_pin(request.user) else None
    if do and (words := _done(request.user, do, form, pin)):
        messages.success(request, words)
        return redirect("settings")
    context = {"form": form, "pin": pin, "has_pin": pin is not None and pins.has_pin(request.user)}
    return render(request, "tooling/settings.html", context)


def _may_have_pin(person: Person) -> bool:
    return person.can_log


def _done(person: Person, do: str, form: SettingsForm, pin: PinForm | None) -> str:
    """Does what was asked, and says so; "" where a form has to be filled in again."""
    if do == "units" and form.is_valid():
        choose_units(person, form.cleaned_data["units"])
        return _("Kept. Numbers are shown and asked in these units from now on.")
    if do == "pin" and pin is not None and pin.is_valid():
        pins.set_pin(person, pin=pin.cleaned_data["pin"])
        return _("The PIN is set.")
    if do == "no-pin" and pin is not None:
        pins.take_away(person)
        return _("The PIN is taken away.")
    return ""
