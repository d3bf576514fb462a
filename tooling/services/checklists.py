"""What a shop looks at on a tool of a kind: a list kept whole, each change a version; and lists to begin with."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from typing import Any

from django.db import transaction
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from shared.errors import Refused
from tooling.models import Checklist, ChecklistItem, Kind, Person, Purpose, Shop
from tooling.services.checklist_rules import LONGEST, MOST_ITEMS, wrong_with


@dataclass(frozen=True, slots=True)
class Item:
    """A line as a list says it: what is looked at; with a `quantity` a value is asked, in `unit`, at `spots` spots."""

    words: Any
    quantity: str = ""
    unit: str = ""
    geometry: str = ""
    spots: int = 1


_GLOSS = Item(gettext_lazy("Gloss measured"), "gloss", "GU", "60°", 3)
_DESIGN = Item(gettext_lazy("Agrees with its drawing: revision, left- or right-hand, trim lines"))
_CODE = Item(gettext_lazy("Code on it, readable; tag in its place"))
# Common practice, without a source: each shop looks at what it has learned to look at.
STARTERS: dict[tuple[str, str], tuple[Item, ...]] = {
    (Kind.PLUG, Purpose.LOOK_OVER): (
        Item(gettext_lazy("Surface: no scratches, no dull patches, no print-through")),
        Item(gettext_lazy("Corners and seams: no cracks, no crazing")),
        Item(gettext_lazy("Sealed all over: nowhere rubbed through")),
        Item(gettext_lazy("Base: stands flat, does not rock, nothing loose")),
    ),
    (Kind.MOLD, Purpose.LOOK_OVER): (
        Item(gettext_lazy("Surface: even gloss, no scratches, no dull patches")),
        Item(gettext_lazy("Corners and radii: no cracks, no crazing")),
        Item(gettext_lazy("Flange and edges: no chips, clean where the seal lies")),
        Item(gettext_lazy("Backing tapped: sounds alike, no blisters, nothing soft")),
        Item(gettext_lazy("Frame, dowels, bolts, clamps: all there, tight, none bent")),
    ),
    (Kind.INSERT, Purpose.LOOK_OVER): (
        Item(gettext_lazy("Surface: no scratches, no dull patches")),
        Item(gettext_lazy("Thin edges: no chips, none bent")),
        Item(gettext_lazy("In its mold: sits without a gap, comes out without force")),
        Item(gettext_lazy("Threads, pins and pull points: all there, tight")),
    ),
    (Kind.TRIM_MASK, Purpose.LOOK_OVER): (
        Item(gettext_lazy("Guiding edge: no gouges, not worn to a step")),
        Item(gettext_lazy("On a part: sits without rocking, reaches its datum")),
        Item(gettext_lazy("Datum pins and stops: all there, tight")),
        Item(gettext_lazy("Clamps, straps, cradle: hold, nothing cracked")),
        Item(gettext_lazy("Left- or right-hand, part, kept side: marked, readable")),
    ),
    (Kind.PLUG, Purpose.ACCEPTANCE): (
        _DESIGN, Item(gettext_lazy("Surface: fair, no pinholes, no cracks at seams")),
        Item(gettext_lazy("Sealed all over, hard as its sheet says")), _GLOSS, _CODE,
    ),
    (Kind.MOLD, Purpose.ACCEPTANCE): (
        _DESIGN, Item(gettext_lazy("Surface: no pinholes, no print-through, no cracks")),
        Item(gettext_lazy("Flange and edges: cut, sealed, no dry fibres")),
        Item(gettext_lazy("Backing tapped: sounds alike, nothing soft")),
        Item(gettext_lazy("Frame: stands flat, does not twist, lift points as the shop wants them")), _GLOSS, _CODE,
    ),
    (Kind.INSERT, Purpose.ACCEPTANCE): (
        _DESIGN, Item(gettext_lazy("In its mold: sits without a gap, comes out without force")),
        Item(gettext_lazy("Surface and thin edges: no pinholes, no chips")), _CODE,
    ),
    (Kind.TRIM_MASK, Purpose.ACCEPTANCE): (
        _DESIGN, Item(gettext_lazy("On a part: sits without rocking, reaches its datum")),
        Item(gettext_lazy("Trial cut on a spare piece: measured against its drawing"), "dimension", "mm", "", 2),
        Item(gettext_lazy("Guiding edge: sealed or hard, no steps")), _CODE,
    ),
}  # fmt: skip


def items_of(checklist: Checklist | None) -> list[Item]:
    """The lines of a version, in their order."""
    rows = checklist.items.all() if checklist is not None else ()
    return [Item(row.words, row.quantity, row.unit, row.geometry, row.spots) for row in rows]


def last_version(kind: str, purpose: str) -> Checklist | None:
    """The one that is changed next; it may be empty."""
    found = Checklist.objects.filter(kind=kind, purpose=purpose).order_by("version").prefetch_related("items")
    return found.last()


@transaction.atomic
def set_items(
    kind: str,
    purpose: str,
    items: Sequence[Item],
    *,
    by: Person | None,
    at: datetime,
    read: Sequence[Item] | None = None,
) -> Checklist | None:
    """From now on this is looked at, in this order; entries keep the version that they answered.

    Order: lock; refuse what cannot stand there, and what was changed since it was `read`; make the next version. Where
    it says nothing new none is made. A refusal names its field with the place in the list: `words.2`.
    """
    Shop.lock()
    last, wanted = last_version(kind, purpose), [_tidy(one) for one in items]
    stands = items_of(last)
    if wanted == stands:
        return last
    _check(wanted)
    if read is not None and list(read) != stands:
        raise Refused(_("Somebody changed this checklist meanwhile. Look at it as it is now, then change it."))
    begins = at if last is None else max(at, last.valid_from)
    version = last.version + 1 if last is not None else 1
    made = Checklist.objects.create(kind=kind, purpose=purpose, version=version, valid_from=begins, made_by=by)
    ChecklistItem.objects.bulk_create(
        ChecklistItem(
            checklist=made, order=place, words=one.words, quantity=one.quantity, unit=one.unit,
            geometry=one.geometry, spots=one.spots,
        )
        for place, one in enumerate(wanted, 1)
    )  # fmt: skip
    return made


def add_starter(kind: str, purpose: str, *, by: Person | None, at: datetime) -> Checklist | None:
    """A kind of which nothing is asked begins with its starter list; a list that is there is kept."""
    if items_of(last_version(kind, purpose)):
        raise Refused(_("There is a checklist already. Change that, or take all of it out first."))
    return set_items(kind, purpose, STARTERS[kind, purpose], by=by, at=at, read=[])


def is_starter(kind: str, purpose: str, items: Sequence[Item]) -> bool:
    """Whether one of these still reads as in the starter list."""
    common = {str(one.words).upper() for one in STARTERS[kind, purpose]}
    return any(str(one.words).upper() in common for one in items)


def _tidy(item: Item) -> Item:
    texts: dict[str, Any] = {name: " ".join(str(getattr(item, name)).split()) for name in LONGEST}
    return replace(item, **texts)


def _check(items: Sequence[Item]) -> None:
    if len(items) > MOST_ITEMS:
        raise Refused(_("That is more than %(most)d lines: put some of them together.") % {"most": MOST_ITEMS})
    met: dict[str, int] = {}
    for place, item in enumerate(items):
        said = {name: getattr(item, name) for name in (*LONGEST, "spots")}
        for name, longest in LONGEST.items():
            if "\x00" in said[name] or len(said[name]) > longest:
                raise Refused(_("That is longer than the program can hold, or no plain text."), f"{name}.{place}")
        for column, sentence in wrong_with(said).items():
            raise Refused(sentence, f"{column}.{place}")
        if met.setdefault(item.words.upper(), place) != place:
            raise Refused(_("“%(line)s” stands there twice.") % {"line": item.words}, f"words.{place}")
