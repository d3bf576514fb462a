"""Places that were put up by mistake are taken down again, all at once."""

from collections.abc import Iterable

from django.db import transaction
from django.db.models import ProtectedError
from django.utils.translation import gettext as _

from shared.errors import Refused
from tooling.models import Entry, Place, PlaceCount
from tooling.selectors.place_tree import below


@transaction.atomic
def take_all_down(places: Iterable[Place]) -> int:
    """Removes places with all that lies within them; how many. Refused as soon as a tool was ever in one of them."""
    rows = list(Place.objects.select_for_update().filter(pk__in=below([place.pk for place in places])))
    left = {row.pk for row in rows}
    # An entry names it for ever, also one that was voided.
    if Entry.objects.filter(payload__place__in=left).exists():
        raise Refused(_("Tools are there, or were once: these places stay."))
    # What was counted by mistake and given up says nothing of a place.
    PlaceCount.objects.filter(place__in=left, given_up=True, marks=None).delete()
    try:
        while left:
            # Those that have none within them first.
            inner = left - set(Place.objects.filter(parent__in=left).values_list("parent", flat=True)) & left
            Place.objects.filter(pk__in=inner).delete()
            left -= inner
    except ProtectedError as used:
        raise Refused(_("Something names one of these places already: they stay.")) from used
    return len(rows)
