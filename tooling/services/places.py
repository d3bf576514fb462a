"""Places: put up several at once, and changed."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from django.core.exceptions import ValidationError
from django.db import transaction
from django.db.models import ProtectedError
from django.utils.translation import gettext as _

from shared.errors import Refused
from shared.units import Read
from tooling.models import Entry, Place, PlaceAlias
from tooling.models.fields import NumberField
from tooling.services import search
from tooling.services.measures import keep
from tooling.services.saving import save
from tooling.services.tags import wanted

# What the tools there are found by.
_SEARCHED = frozenset({"code", "name", "parent"})


@dataclass(frozen=True, slots=True)
class NewPlace:
    """A place that is not there yet; `within` the code of another one, new or known, or ""."""

    code: str
    name: str
    within: str = ""
    kind: str = ""
    height: Read | None = None
    load: Read | None = None

    def row(self, parent: Place | None) -> Place:
        """The same as a row that is not stored yet."""
        place = Place(code=self.code, name=self.name, kind=self.kind, parent=parent)
        for column, said in (("height_mm", self.height), ("max_load_kg", self.load)):
            if said is not None:
                keep(place, column, said)
        return place


@transaction.atomic
def put_up(places: Iterable[NewPlace]) -> list[Place]:
    """Writes new places, each after the one that it lies in; all of them or none. Raises Refused."""
    made: list[Place] = []
    for one in places:
        parent = Place.objects.called(one.within).first() if one.within else None
        if one.within and parent is None:
            raise Refused(_("There is no place %(code)s.") % {"code": one.within}, "within")
        place = one.row(parent)
        try:
            save(place)
        except ValidationError as wrong:
            raise Refused(f"{one.code}: {' '.join(wrong.messages)}") from wrong
        made.append(place)
    return made


def change_place(place: Place, columns: Mapping[str, Any]) -> Place:
    """Changes these columns; an old code stays for ever. Raises ValidationError by field: none lies in itself.

    The words of the tools there follow when the change is written, piece by piece: nobody else who writes has to wait
    for a whole room. Where that breaks off, `check_history` says so and `--relay` mends it.
    """
    row = _changed(place, columns)
    if _SEARCHED & columns.keys():
        search.keep_places([row.pk])
        wanted.keep_home_of(row)
    return row


@transaction.atomic
def _changed(place: Place, columns: Mapping[str, Any]) -> Place:
    """Every place is locked, so that two changes at once cannot close a loop that neither of them sees.

    Not their keys: deeds that name a place go on.
    """
    rows = {row.pk: row for row in Place.objects.select_for_update(of=("self",), no_key=True).order_by("pk")}
    row, code = rows[place.pk], rows[place.pk].code
    for name, value in columns.items():
        if isinstance(Place._meta.get_field(name), NumberField):
            keep(row, name, value)
        else:
            setattr(row, name, value)
    save(row)
    if row.code != code:
        _keep_old_code(row, code)
    return row


@transaction.atomic
def take_down(place: Place) -> None:
    """Removes a place at which nothing ever was: a slip of typing. Refused where anything names it."""
    row = Place.objects.select_for_update().get(pk=place.pk)
    # An entry names it for ever, also one that was voided.
    if row.children.exists() or Entry.objects.filter(payload__place=row.pk).exists():
        raise Refused(_("%(code)s is not empty, or tools were there once: it stays. Give it another name.") % _of(row))
    # What was counted by mistake and given up says nothing of the place.
    row.counts.filter(given_up=True, marks=None).delete()
    if row.counts.exists():
        raise Refused(_("%(code)s was counted, or is being counted: it stays. Give it another name.") % _of(row))
    try:
        row.delete()
    except ProtectedError as used:
        raise Refused(_("%(code)s is the home of a tool: it stays. Give it another name.") % _of(row)) from used


def _of(place: Place) -> dict[str, str]:
    return {"code": place.code}


def _keep_old_code(place: Place, code: str) -> None:
    """One that is taken back is no old code any more."""
    PlaceAlias.objects.filter(place=place, code=place.code).delete()
    PlaceAlias.objects.create(place=place, code=code)
