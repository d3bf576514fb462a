"""How far somebody is in the count of a place: kept in the address of its page, signed where it says whose hands."""

from dataclasses import asdict, dataclass, replace
from typing import Any

from django.core import signing
from django.core.signing import BadSignature
from django.http import HttpRequest
from django.urls import reverse
from django.utils.http import urlencode

from shared import clock
from tooling.models import Person, Place, PlaceCount, Shop
from tooling.selectors.count import last_seen
from tooling.selectors.moves import loan_ended_by
from tooling.selectors.place_counts import CountPage
from tooling.views.counts import HANDS_STAY, still_hands
from tooling.words.place_counts import written_down

_SALT = "tooling.counting"
_STAYS = int(HANDS_STAY.total_seconds()) * 6


@dataclass(frozen=True, slots=True)
class Going:
    """The shelf whose tag was scanned last, the last entry that was written, and at a station whose hands, since when.

    unknown: the line of the tag that was read last and that nobody knew. asks: what is asked before it is done.
    A count is one deed, tag after tag: its name goes with the page that is left, and with a pause.
    """

    at: str = ""
    last: int | None = None
    by: int | None = None
    by_at: str = ""
    unknown: int | None = None
    asks: str = ""

    @property
    def hands(self) -> Person | None:
        """Whose hands count, while that still holds."""
        return still_hands(self.by, self.by_at)

    def shelf(self, page: CountPage) -> Place | None:
        """The shelf, where it is part of what is counted."""
        place = Place.objects.called(self.at).first() if self.at else None
        return place if place is not None and place.pk in page.tree.below(page.count.place_id) else None

    def on(self, *, last: int | None, by: Person | None, unknown: int | None = None, asks: str = "") -> "Going":
        """The same after one more tag, or tap. `by`: the hands that a station was told."""
        now = clock.now().isoformat() if by is not None else ""
        return replace(self, last=last, by=by.pk if by is not None else None, by_at=now, unknown=unknown, asks=asks)


def going(request: HttpRequest) -> Going:
    """What the address says."""
    at = request.GET.get("at", "").replace("\x00", "")
    try:
        return Going(**{**signing.loads(request.GET.get("on", ""), salt=_SALT, max_age=_STAYS), "at": at})
    except BadSignature:
        return Going(at)


def address(count: PlaceCount, now: Going, to: str = "count") -> str:
    """A page of the count that knows how far somebody is."""
    asked: dict[str, Any] = {"at": now.at} if now.at else {}
    if now != Going(now.at):
        asked["on"] = signing.dumps(asdict(now), salt=_SALT)
    return reverse(to, args=[count.number]) + (f"?{urlencode(asked)}" if asked else "")


def strip(request: HttpRequest, now: Going, shop: Shop) -> dict[str, Any]:
    """What was written last, while it can be rubbed out, for the strip of tape."""
    last = last_seen(now.last, request.user, clock.now(), shop) if now.last else None
    if last is None:
        return {}
    written, place = last
    entry = written.entry
    return {"written": written, "seen_words": written_down(entry, written.told.head, place, loan_ended_by(entry))}
