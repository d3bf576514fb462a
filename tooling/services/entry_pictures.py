"""Pictures given with what was written, and the mark that says where on them it is."""

from datetime import datetime
from typing import BinaryIO

from django.db import transaction
from django.utils.translation import gettext as _

from shared.errors import Refused
from tooling.models import Defect, Entry, Person, Picture, ToolChange
from tooling.models.pictures import WHOLE
from tooling.services.deeds.alongside import locked_in_place_of
from tooling.services.pictures import Added, add_stored, locked, still_on, store


def picture_of(
    entry: Entry,
    file: BinaryIO,
    *,
    by: Person | None,
    at: datetime,
    recorded_by: Person | None = None,
    defect: Defect | None = None,
    caption: str = "",
) -> Added:
    """A picture of what an entry says, and of which defect. The same with the same entry is the one that is there.

    The entry is written by then: a picture that is refused takes nothing back. Where the entry was corrected meanwhile
    it goes with what stands in its place.
    """
    columns = store(file)
    with transaction.atomic():
        now = locked_in_place_of(entry)
        if now.kind == "void" or Entry.objects.filter(voids=now).exists():
            raise Refused(_("What this picture was given with is void. Add it to the pictures of the tool."))
        return add_stored(
            now.tool, columns, by=by, at=at, caption=caption, recorded_by=recorded_by, entry=now, defect=defect
        )


def may_mark(picture: Picture, person: Person) -> bool:
    """A lead marks any; a hand, and a station, what was taken from the same sign-in."""
    return picture.taken_down_at is None and (person.can_lead or picture.recorded_by_id == person.pk)


@transaction.atomic
def mark(picture: Picture, place: tuple[int, int] | None, *, by: Person, at: datetime) -> None:
    """Say where it is: thousandths of the width and the height; None takes the mark off.

    Where a mark was before is kept among the changes of the tool.
    """
    if not may_mark(picture, by):
        raise Refused(_("Who took the picture marks it, or a lead."))
    if place is not None and not all(0 <= one <= WHOLE for one in place):
        raise Refused(_("The mark lies beside the picture. Tap on the picture."))
    now = still_on(picture, locked(picture.tool))
    before = now.mark
    if before == place:
        return
    now.mark_x, now.mark_y = place or (None, None)
    now.save(update_fields=["mark_x", "mark_y"])
    if before is not None:
        who = now.added_by if by.is_station and now.added_by is not None else by
        ToolChange.objects.create(
            tool=now.tool, at=at, who=who, field="mark", before=_in_text(before), after=_in_text(place)
        )


def _in_text(place: tuple[int, int] | None) -> str:
    return "" if place is None else f"{place[0]} {place[1]}"
