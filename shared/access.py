"""Who may do what: one sentence a rule. A role is a word of the person; none means that nobody signs in with it."""

import ipaddress
import unicodedata
from collections.abc import Callable, Mapping
from functools import wraps
from typing import Any, TypeVar, cast

from django.contrib.auth.backends import ModelBackend
from django.core.exceptions import PermissionDenied
from django.http import HttpRequest, HttpResponseBase


def can_read(person: Any) -> bool:
    """Everyone with a role may look at everything."""
    return signed_in(person) and person.role != ""


def can_log(person: Any) -> bool:
    """Hands, leads and the shared tablet log deeds."""
    return signed_in(person) and person.can_log


def can_lead(person: Any) -> bool:
    """Only leads change the catalogue, recipes and people, void other people's entries and import."""
    return signed_in(person) and person.can_lead


def can_do(person: Any, *, as_lead: bool) -> bool:
    """Whoever logs deeds does those of any hand; only leads do a lead's own."""
    return can_lead(person) if as_lead else can_log(person)


def can_print(person: Any) -> bool:
    """Whoever logs deeds prints tags, the shared tablet included; a reader looks at them."""
    return can_log(person)


def can_want(person: Any) -> bool:
    """Only leads say what is wanted; everyone with a role reads it."""
    return can_lead(person)


def is_station(person: Any) -> bool:
    """A shared tablet must ask whose hands it was."""
    return signed_in(person) and person.is_station


def can_choose(person: Any) -> bool:
    """Somebody's own settings are theirs; a shared tablet is nobody's, and opens none."""
    return can_read(person) and not person.is_station


def signed_in(person: Any) -> bool:
    """Somebody known who has not left."""
    return bool(person.is_authenticated and person.is_active)


View = TypeVar("View", bound=Callable[..., HttpResponseBase])


def needs(rule: Callable[[Any], bool]) -> Callable[[View], View]:
    """Open a view only to people for whom the rule holds; others who are signed in are told that they may not."""

    def guard(view: View) -> View:
        @wraps(view)
        def guarded(request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponseBase:
            if not rule(request.user):
                raise PermissionDenied
            return view(request, *args, **kwargs)

        return cast(View, guarded)

    return guard


class RoleBackend(ModelBackend):
    """Signing in by name and password, for people who have a role; losing it ends the sessions at once."""

    def user_can_authenticate(self, user: Any) -> bool:
        """Whether this person may be signed in, asked at sign-in and at every request."""
        return can_read(user)


def address_tried(request: HttpRequest) -> str:
    """The address a password came from.

    A web server on this machine passes everybody on from here, and writes whom it heard behind what it was told: only
    its own word, the last, is believed, and only from here. Anything else in that header anybody could have written.
    """
    address = str(request.META.get("REMOTE_ADDR", ""))
    told = request.META.get("HTTP_X_FORWARDED_FOR", "").rpartition(",")[2].strip()
    return told if _is_address(told) and _is_loopback(address) else address


def _is_address(text: str) -> bool:
    try:
        ipaddress.ip_address(text)
    except ValueError:
        return False
    return True


def _is_loopback(text: str) -> bool:
    # a server on a socket of this machine has no address at all
    return not text or (_is_address(text) and ipaddress.ip_address(text).is_loopback)


def name_tried(request: HttpRequest, credentials: Mapping[str, Any] | None) -> str:
    """The name that a password was tried for, folded: guesses count against one person however it is written."""
    name = (credentials or {}).get("username") or request.POST.get("username", "")
    return " ".join(unicodedata.normalize("NFC", str(name)).casefold().split())
