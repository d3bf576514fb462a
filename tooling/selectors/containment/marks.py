"""What was found at one part, whatever put it in doubt: for its story."""

from collections.abc import Iterable

from tooling.models import ContainmentMark, Entry
from tooling.models.serials import key_of


def marks_of(number: str, entries: Iterable[Entry]) -> list[ContainmentMark]:
    """The marks that stand of a serial number, by the entries that tell of it; the latest first. One query."""
    marks = ContainmentMark.objects.filter(serial=key_of(number), use__in=[one.pk for one in entries])
    return list(marks.filter(taken_back_at=None).select_related("by", "of_entry__tool").order_by("-at", "-pk"))
