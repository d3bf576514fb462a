"""Your settings."""

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods

from shared.access import can_read, needs
from tooling.forms.me import SettingsForm
from tooling.services.people import choose_units


@needs(can_read)
@require_http_methods(["GET", "HEAD", "POST"])
def settings(request: HttpRequest) -> HttpResponse:
    """In which units somebody reads and types."""
    data = request.POST if request.method == "POST" else None
    form = SettingsForm(data, initial={"units": request.user.units})
    if form.is_valid():
        choose_units(request.user, form.cleaned_data["units"])
        messages.success(request, _("Kept. Numbers are shown and asked in these units from now on."))
        return redirect("settings")
    return render(request, "tooling/settings.html", {"form": form})
