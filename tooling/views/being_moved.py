"""What the page that moves by scans knows from one tag to the next: kept in its address, signed."""

from collections.abc import Collection, Sequence
from dataclasses import asdict, dataclass, replace
from datetime import datetime, timedelta

from django.core import signing
from django.core.signing import BadSignature
from django.http import HttpRequest
from django.urls import reverse
from django.utils.http import urlencode

from shared import clock
from tooling.models import Person, Place, Tool
from tooling.views.counts import HANDS_STAY, still_hands

_SALT = "tooling.read"
# So many that were read too long ago are named.
_NAMED = 12


@dataclass(frozen=True, slots=True)
class Read:
    """The tools that wait for their place, or the place at which tools are put; since when; what was written last.

    dropped: what was read too long ago. by, by_at: at a station the hands, and since when.
    """

    tools: Sequence[str] = ()
    place: str = ""
    at: str = ""
    last: Sequence[int] = ()
    dropped: Sequence[str] = ()
    by: int | None = None
    by_at: str = ""

    def waiting(self, within: timedelta = HANDS_STAY) -> tuple[list[Tool], Place | None]:
        """The tools or the place of a moment ago, the tools in the order in which they were read."""
        if self.old(within):
            return [], None
        tools = {one.code: one for one in Tool.objects.filter(code__in=self.tools)}
        place = Place.objects.called(self.place).first() if self.place else None
        return [tools[code] for code in self.tools if code in tools], place

    def old(self, within: timedelta = HANDS_STAY) -> bool:
        """Whether what was read counts no more."""
        return not self.at or clock.now() - datetime.fromisoformat(self.at) > within

    def left_behind(self, read_now: Collection[str] = ()) -> list[str]:
        """The codes of what was read and counts no more, without those that were read again."""
        old = [*self.tools, *filter(None, [self.place])] if self.at and self.old() else []
        return [code for code in (*self.dropped, *old) if code not in read_now][-_NAMED:]

    def hands(self) -> Person | None:
        """Whose hands they are at a station, while that still holds."""
        return still_hands(self.by, self.by_at)

    def anew(self) -> "Read":
        """Nothing is read; what was written last is still on its strip."""
        return replace(self, tools=(), place="", at="", dropped=())

    def address(self) -> str:
        """The page with what is known."""
        return f"{reverse('move_by_scan')}?{urlencode({'read': signing.dumps(asdict(self), salt=_SALT)})}"


def read_before(request: HttpRequest) -> Read:
    """What the address says."""
    try:
        return Read(**signing.loads(request.GET.get("read", ""), salt=_SALT))
    except (BadSignature, TypeError):
        return Read()
