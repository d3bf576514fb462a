"""How a plug sat on the machine, and the passes that milled it. One function a deed."""

from collections.abc import Mapping, Sequence
from datetime import datetime
from typing import Any

from django.db import transaction
from django.utils.translation import gettext as _

from shared.errors import Refused
from tooling.models import MillingPass, Person, PlugRecord, Tool
from tooling.services.columns import differing, put, refuse, stand, values_of
from tooling.services.kept import check_as_read, in_words, keep, lock
from tooling.services.plug_rules import is_plug, no_plug, wrong_with_pass, wrong_with_record
from tooling.services.saving import save
from tooling.words.plug_changes import ALIKE, ORDER, PLUG, ROW, called, pass_as_kept

# What a row has besides what a person says of it
_OF_THE_ROW = frozenset({"id", "tool", "as_typed", "order"})
# What only one plug has: its picture, its shape, how long its own passes took and what was noted of them.
_ITS_OWN = frozenset({"picture", "minutes_taken", "note", *MillingPass.OF_ITS_SHAPE})


class Gone(Refused):
    """Somebody took the pass out meanwhile."""

    def __init__(self) -> None:
        super().__init__(_("That pass is not there any more: somebody took it out."))


@transaction.atomic
def describe(tool: Tool, *, by: Person, at: datetime, read: PlugRecord | None = None, **columns: Any) -> PlugRecord:
    """Says these columns of a plug, whose record is made where there is none, and keeps what stood before.

    `read`: the row as the form was judged by. Order: refuse a tool that is no plug; lock; refuse what was changed since
    it was read, what cannot be, and a picture of another tool; write the row and its changes.
    """
    _lock_plug(tool)
    record = PlugRecord.objects.filter(tool=tool).first() or PlugRecord(tool=tool)
    before = stand(record, columns)
    check_as_read(before, read)
    put(record, columns)
    refuse(wrong_with_record(values_of(record)))
    if record.picture is not None and record.picture.tool_id != tool.pk:
        raise Refused(_("That is a picture of another tool. Choose one of this plug."), "picture")
    save(record)
    for name, stands in stand(record, columns).items():
        keep(tool, by, at, f"{PLUG} {name}", before=before[name], after=stands)
    return record


@transaction.atomic
def add_pass(tool: Tool, *, by: Person, at: datetime, place: int | None = None, **columns: Any) -> MillingPass:
    """A pass comes in behind the others.

    `place`: the place that the form meant it for, from 1. Where a pass that says just the same stands there, the form
    was sent twice: that one is returned. Order: refuse a tool that is no plug; lock; the same again; refuse what cannot
    be; write the pass, and what was added.
    """
    _lock_plug(tool)
    others = list(tool.milling_passes.all())
    row = MillingPass(tool=tool, order=max((one.order for one in others), default=0) + 1)
    put(row, columns)
    if place is not None and 0 < place <= len(others) and _says(others[place - 1]) == _says(row):
        return others[place - 1]
    refuse(wrong_with_pass(values_of(row), by.units))
    save(row)
    keep(tool, by, at, ROW, after=_kept(row))
    return row


@transaction.atomic
def change_pass(
    one: MillingPass, *, by: Person, at: datetime, read: MillingPass | None = None, **columns: Any
) -> MillingPass:
    """Changes these columns of a pass and keeps what stood there before. `read`: the row as the form was judged by.

    Order: lock the plug; refuse what was changed since it was read and what cannot be; write the pass and its change.
    """
    row = _still_there(one)
    before, name = stand(row, columns), called(row)
    check_as_read(before, read)
    put(row, columns)
    refuse(wrong_with_pass(values_of(row), by.units))
    save(row)
    was, now = differing(before, stand(row, columns))
    if now:
        keep(one.tool, by, at, ROW, before=pass_as_kept(name, was), after=pass_as_kept(called(row), now))
    return row


@transaction.atomic
def remove_pass(one: MillingPass, *, by: Person, at: datetime) -> MillingPass:
    """A pass leaves. The row is returned as it was, for `put_back`."""
    row = _still_there(one)
    keep(one.tool, by, at, ROW, before=_kept(row))
    MillingPass.objects.filter(pk=row.pk).delete()
    return row


@transaction.atomic
def put_back(one: MillingPass, *, by: Person, at: datetime) -> MillingPass:
    """A pass that left comes back as it was, with its key and its place; once only."""
    _lock_plug(one.tool)
    if one.tool.milling_passes.filter(pk=one.pk).exists():
        raise Refused(_("This pass is there already."))
    refuse(wrong_with_pass(values_of(one), by.units))
    save(one)
    keep(one.tool, by, at, ROW, after=_kept(one))
    return one


@transaction.atomic
def put_in_order(tool: Tool, order: Sequence[int], *, by: Person, at: datetime) -> list[MillingPass]:
    """Numbers the passes, named by their keys, from 1 on. Refused where these are not all the passes there are."""
    lock(tool)
    before = list(tool.milling_passes.all())
    by_key = {row.pk: row for row in before}
    if sorted(order) != sorted(by_key):
        raise Refused(_("Somebody changed the passes meanwhile. Look at them as they are now, then put them in order."))
    after = [by_key[key] for key in order]
    was, now = ("; ".join(map(called, rows)) for rows in (before, after))
    for number, row in enumerate(after, 1):
        row.order = number
    MillingPass.objects.bulk_update(after, ["order"])
    keep(tool, by, at, ORDER, before=was, after=now)
    return after


@transaction.atomic
def set_up_alike(tool: Tool, *, like: Tool, by: Person, at: datetime) -> PlugRecord:
    """Gives a plug the record and the passes of another; its picture, its notes, what was measured on its shape and how
    long it took stay with that one.

    Order: refuse a tool that is no plug; lock both, in the order of their keys; refuse a plug that is described
    already, and one to copy of which nothing is known; write record and passes, and after which plug.
    """
    for plug in sorted((tool, like), key=lambda one: one.pk):
        _lock_plug(plug)
    source, passes = PlugRecord.objects.filter(tool=like).first(), list(like.milling_passes.all())
    if source is None and not passes:
        raise Refused(_("Nobody has said anything of %(plug)s that could be copied.") % {"plug": like.code}, "like")
    if tool.pk == like.pk or PlugRecord.objects.filter(tool=tool).exists() or tool.milling_passes.exists():
        text = _("%(plug)s is described already. What stands there is not written over: change it there.")
        raise Refused(text % {"plug": tool.code}, "like")
    record = PlugRecord(tool=tool)
    if source is not None:
        _copy(source, record)
    save(record)
    for one in passes:
        row = MillingPass(tool=tool, order=one.order)
        _copy(one, row)
        save(row)
    keep(tool, by, at, ALIKE, after=like.code)
    return record


def _lock_plug(tool: Tool) -> None:
    if not is_plug(tool.kind):
        raise Refused(no_plug(tool.code, tool.kind), "tool")
    lock(tool)


def _still_there(one: MillingPass) -> MillingPass:
    lock(one.tool)
    row = one.tool.milling_passes.filter(pk=one.pk).first()
    if row is None:
        raise Gone
    return row


def _copy(of: PlugRecord | MillingPass, row: PlugRecord | MillingPass) -> None:
    for name, value in values_of(of).items():
        if name not in _OF_THE_ROW | _ITS_OWN:
            setattr(row, name, value)
    row.as_typed = {name: said for name, said in of.as_typed.items() if name not in _ITS_OWN}


def _says(row: MillingPass) -> Mapping[str, str]:
    return {name: in_words(value) for name, value in values_of(row).items() if name not in _OF_THE_ROW}


def _kept(row: MillingPass) -> str:
    said = {name: text for name, text in _says(row).items() if text and name not in ("kind", "name")}
    return pass_as_kept(called(row), said)
