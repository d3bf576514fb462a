"""Signing in, and the names that a demo offers on its own machine."""

from typing import Any

from django.conf import settings
from django.http import HttpRequest

from shared import views
from shared.run.address import is_own
from tooling.models import Role, Shop
from tooling.services import demo_logins
from tooling.words.demo import in_short

# What a web server writes when it passes somebody on.
_PASSED_ON = ("X-Forwarded-For", "X-Forwarded-Host", "X-Real-IP", "Forwarded", "Via")


class SignIn(views.SignIn):
    """The door of the shop, with the demo's logins to tap where nobody else can come in."""

    def get_context_data(self, **more: Any) -> dict[str, Any]:
        """What the page says, with the shop and the logins."""
        shop = Shop.current()
        demo = _demo() if shop.demo_since is not None and only_this_machine(self.request) else {}
        return super().get_context_data(shop=shop, **demo, **more)


def _demo() -> dict[str, Any]:
    """Each login with its role and what to try, and the password and PIN that everybody knows."""
    logins = [(login, Role(login.role).label, in_short(login.role)) for login in demo_logins.at_the_door()]
    return {"logins": logins, "password": demo_logins.PASSWORD, "pin": demo_logins.PIN}


def pin_to_say(request: HttpRequest) -> str:
    """The PIN of a demo's hands, where the door says it as well; "" where others may come in, or it was made anew."""
    return demo_logins.PIN if only_this_machine(request) and demo_logins.at_the_door() else ""


def only_this_machine(request: HttpRequest) -> bool:
    """Whether the site has an address that no other machine reaches, and this came from here, through nobody.

    A web server on this machine that hides the visitor and his address altogether cannot be told from a browser here:
    behind one SITE_URL must be set, which alone closes this door.
    """
    passed_on = any(name in request.headers for name in _PASSED_ON)
    came_from = str(request.META.get("REMOTE_ADDR", ""))
    here = not passed_on and is_own(f"http://[{came_from}]" if ":" in came_from else f"http://{came_from}")
    return here and is_own(settings.SITE_URL) and is_own(f"http://{request.get_host()}")
