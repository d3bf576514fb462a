"""The one-time address that an empty shop prints."""

from django.contrib.auth import login
from django.contrib.auth.decorators import login_not_required
from django.http import Http404
from django.shortcuts import redirect, render
from django.views.decorators.cache import never_cache
from django.views.decorators.debug import sensitive_post_parameters
from django.views.decorators.http import require_http_methods

from tooling.forms.first_lead import FirstLeadForm
from tooling.models import Shop
from tooling.services import first_lead


@login_not_required
@never_cache
@sensitive_post_parameters("password1", "password2")
@require_http_methods(["GET", "HEAD", "POST"])
def become_first_lead(request, token):
    """Ask for the shop's name and the lead's, and sign the lead in."""
    if not first_lead.opens(token):
        raise Http404
    form = FirstLeadForm(request.POST or None, initial={"shop_name": Shop.current().name})
    if form.is_valid():
        data = form.cleaned_data
        person = first_lead.become(name=data["name"], password=data["password1"], shop_name=data["shop_name"])
        login(request, person, backend="shared.access.RoleBackend")
        return redirect("/")
    return render(request, "tooling/first_lead.html", {"form": form})
