"""Which last day of a right was known at a moment: its ends that were said before another one, as text."""

from collections.abc import Iterator
from datetime import UTC, date, datetime

OPEN = "open"


def with_end(earlier: str, until: date | None, at: datetime) -> str:
    """The ends said before, with one more that holds no longer.

    Parameters:
        earlier [-]: those so far.
        until [-]: the last day that was said; None where none was.
        at [-]: when another end was said.

    Returns:
        [-] "open 2026-05-04T09:00:00+00:00; 2026-06-30 2026-11-03T10:00:00+00:00"
    """
    one = f"{until.isoformat() if until is not None else OPEN} {at.astimezone(UTC).isoformat()}"
    return "; ".join(filter(None, [earlier, one]))


def read_ends(earlier: str) -> Iterator[tuple[date | None, datetime]]:
    """Each end that was said before another one, and when that one was said.

    Parameters:
        earlier [-]: as `with_end` writes it.

    Returns:
        [-] the last day (None: none was said) and the moment from which on it was not known as the end any more.

    Raises:
        ValueError: where it is not written so.
    """
    for one in filter(None, (part.strip() for part in earlier.split(";"))):
        day, _, moment = one.partition(" ")
        at = datetime.fromisoformat(moment.strip())
        if at.tzinfo is None:
            raise ValueError(f"{moment} has no distance to UTC.")
        yield None if day == OPEN else date.fromisoformat(day), at


def known_end(earlier: str, until: date | None, known_at: datetime) -> date | None:
    """The last day of a right as it was known at a moment; None where none had been said.

    Parameters:
        earlier [-]: the ends said before, as `with_end` writes them.
        until [-]: the last day as it is now.
        known_at [-]: the moment.

    Returns:
        [-] the last day.
    """
    return next((day for day, at in read_ends(earlier) if known_at < at), until)
