"""Places that were just put up, for a strip with the way back: which they are stands signed in the address."""

from collections.abc import Iterable
from typing import Any

from django.core import signing
from django.core.signing import BadSignature
from django.db.models import Q
from django.http import HttpRequest
from django.utils.http import urlencode

from shared.access import can_lead
from tooling.models import Place, Summary
from tooling.selectors.place_tree import below
from tooling.services.deeds.undo import RUB_OUT_WITHIN

_SALT = "tooling.put_up"


def address(url: str, codes: Iterable[str], typed: dict[str, str] | None = None) -> str:
    """An address that knows what was put up; codes: those that lie in none of the others."""
    return f"{url}?{urlencode({**(typed or {}), 'put': signing.dumps(list(codes), salt=_SALT)})}"


def named(signed: str) -> list[Place]:
    """The places that a signed text names, while they may be taken down again."""
    try:
        codes = signing.loads(signed, salt=_SALT, max_age=RUB_OUT_WITHIN)
    except BadSignature:
        return []
    return list(Place.objects.filter(code__in=codes).order_by("code"))


def strip(request: HttpRequest) -> dict[str, Any]:
    """For the strip, to a lead and as long as nothing lies there."""
    signed = request.GET.get("put", "")
    places = named(signed) if signed and can_lead(request.user) else []
    there = below([place.pk for place in places]) if places else set()
    if not places or Summary.objects.filter(Q(home__in=there) | Q(seen_place__in=there)).exists():
        return {}
    return {"put_up": {"signed": signed, "codes": ", ".join(place.code for place in places), "count": len(there)}}
