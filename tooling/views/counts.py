"""Who stands before which place, and the count of what lies on it: kept in the address and in one person's cookie."""

from dataclasses import asdict, dataclass
from datetime import datetime, timedelta
from typing import Any
from uuid import UUID, uuid4

from django.core import signing
from django.core.signing import BadSignature, TimestampSigner
from django.http import HttpRequest
from django.urls import reverse
from django.utils.http import urlencode

from shared import clock
from shared.access import can_log
from tooling.models import Person, Place
from tooling.selectors.hands import hands
from tooling.views import opened

# So long a scan of a place counts: whoever scanned it still stands before it.
SCAN_COUNTS = opened.STAYS
# No name stays chosen at a station, since the next who comes is another. A count is one run of one deed, tag after tag:
# its name goes with the page that is left, and with this long a pause.
HANDS_STAY = timedelta(minutes=10)
_SIGNER = TimestampSigner(salt="tooling.scanned-place")
_RUN = "tooling.count"
# The name under which the proof of the place that was scanned last is left for the tags of tools.
KEPT = "scanned"


def still_hands(by: int | None, by_at: str) -> Person | None:
    """Whose hands they are at a station, by their key and since when, while that still holds."""
    if by is None or clock.now() - datetime.fromisoformat(by_at) > HANDS_STAY:
        return None
    return hands().filter(pk=by).first()


@dataclass(frozen=True, slots=True)
class Run:
    """Tag after tag at one place: the last entry that was written, and at a station whose hands it is and was when."""

    last: int | None = None
    by: int | None = None
    by_at: str = ""

    def hands(self) -> Person | None:
        """Whose hands count, while that still holds."""
        return still_hands(self.by, self.by_at)


def scanned(place: Place) -> str:
    """The proof that the tag of the place was scanned just now."""
    return _SIGNER.sign(place.code)


def kept(request: HttpRequest) -> str:
    """The proof of the place that this person scanned last; "" where that was too long ago."""
    proof = opened.left(request, KEPT) or ""
    return proof if code_of(proof) else ""


def code_of(proof: str) -> str:
    """The code of the place that was scanned; "" where the proof is none or too old."""
    try:
        return _SIGNER.unsign(proof, max_age=SCAN_COUNTS)
    except BadSignature:
        return ""


def place_of(proof: str) -> Place | None:
    """The place that was scanned."""
    code = code_of(proof) if proof else ""
    return Place.objects.called(code).first() if code else None


@dataclass(frozen=True, slots=True)
class Met:
    """A tool whose tag was opened by somebody who stands before a place, to be written down with one tap."""

    place: Place
    proof: str
    token: UUID


def met(request: HttpRequest) -> Met | None:
    """The place that the address of a tool's page says was scanned before the tool's own tag."""
    proof = request.GET.get("scanned", "")
    place = place_of(proof) if can_log(request.user) and not request.user.is_station else None
    return Met(place, proof, uuid4()) if place is not None else None


def may_see(request: HttpRequest, place: Place) -> bool:
    """Whether what is scanned now was seen at the place: its tag was scanned just now, or it is a station."""
    return request.user.is_station or code_of(request.GET.get("scanned", "")) == place.code


def run_of(request: HttpRequest) -> Run | None:
    """The count that the address is part of."""
    try:
        return Run(**signing.loads(request.GET.get("count", ""), salt=_RUN, max_age=SCAN_COUNTS))
    except (BadSignature, TypeError):  # an address from before an update says other things
        return None


def address(place: Place, proof: str, run: Run | None) -> str:
    """The page of the place with what is known of whoever stands there."""
    asked: dict[str, Any] = {"scanned": proof} if proof else {}
    if run is not None:
        asked["count"] = signing.dumps(asdict(run), salt=_RUN)
    return reverse("place", args=[place.code]) + (f"?{urlencode(asked)}" if asked else "")
