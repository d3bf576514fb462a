"""What only a demo shows: the strip that leads to what to try, and its logins at the door."""

from typing import Any

from django import template
from django.conf import settings
from django.http import HttpRequest

from shared.run.address import is_own
from tooling.models import Shop
from tooling.selectors.demo import strip_wanted
from tooling.services import demo_logins
from tooling.words.demo import in_short

register = template.Library()
# What a web server writes when it passes somebody on.
_PASSED_ON = ("X-Forwarded-For", "X-Forwarded-Host", "X-Real-IP", "Forwarded", "Via")


@register.inclusion_tag("tooling/_demo_strip.html", takes_context=True)
def demo_strip(context: template.Context) -> dict[str, Any]:
    """This is a demo; until the person puts it away."""
    return {"strip": strip_wanted(context["user"], context["shop"])}


@register.inclusion_tag("tooling/_demo_door.html", takes_context=True)
def demo_door(context: template.Context) -> dict[str, Any]:
    """The demo's names to tap, with a password that everybody knows: only where nobody else can come in."""
    request = context.get("request")
    if request is None or not only_this_machine(request) or Shop.current().demo_since is None:
        return {"logins": []}
    logins = [(login, in_short(login.role)) for login in demo_logins.at_the_door()]
    known = {"password": demo_logins.PASSWORD, "pin": demo_logins.PIN}
    return {**known, "logins": logins, "next": context.get("next", "")}


def only_this_machine(request: HttpRequest) -> bool:
    """Whether the site has an address that no other machine reaches, and this came from here, through nobody."""
    passed_on = any(name in request.headers for name in _PASSED_ON)
    came_from = str(request.META.get("REMOTE_ADDR", ""))
    here = not passed_on and is_own(f"http://[{came_from}]" if ":" in came_from else f"http://{came_from}")
    return here and is_own(settings.SITE_URL) and is_own(f"http://{request.get_host()}")
