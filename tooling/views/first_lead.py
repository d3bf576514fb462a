"""The one-time address that an empty shop prints."""

from django.contrib.auth import login
from django.contrib.auth.decorators import login_not_required
from django.http import Http404
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.cache import never_cache
from django.views.decorators.debug import sensitive_post_parameters
from django.views.decorators.http import require_http_methods

from shared import clock
from shared.errors import Refused
from tooling.forms.first_lead import FirstLeadForm
from tooling.forms.shop import zones
from tooling.models import Shop
from tooling.services import first_lead


@login_not_required
@never_cache
@sensitive_post_parameters("password1", "password2")
@require_http_methods(["GET", "HEAD", "POST"])
def become_first_lead(request, token):
    """Ask for the shop's name and the lead's, and sign the lead in."""
    if not first_lead.opens(token):
        return _ended(request, token)
    shop = Shop.current()
    form = FirstLeadForm(request.POST or None, initial={"shop_name": shop.name, "time_zone": shop.time_zone})
    if form.is_valid():
        data = form.cleaned_data
        try:
            person = first_lead.become(
                name=data["name"],
                password=data["password1"],
                shop_name=data["shop_name"],
                time_zone=data.get("time_zone", ""),
                at=clock.now(),
            )
        except Refused as refused:
            form.add_error(refused.field or None, refused.message)
        else:
            login(request, person, backend="shared.access.RoleBackend")
            return redirect("/")
    return render(request, "tooling/first_lead.html", {"form": form, "zones": zones()})


def _ended(request, token):
    """What became of an address that this shop gave out once; of any other nothing is said."""
    if not first_lead.is_ours(token):
        raise Http404
    if first_lead.is_wanted():
        why = _("This address lasted a day.")
        what_to_do = _("Start the shop once more with “make run”: it prints a new one.")
    else:
        why = _("This shop has its lead already.")
        what_to_do = _("Sign in. Whoever has no name and password yet gets a link from the lead.")
    context = {"why": why, "what_to_do": what_to_do}
    return render(request, "tooling/people/link_ended.html", context, status=410)
