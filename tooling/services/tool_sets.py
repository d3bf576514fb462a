"""Tool sets: what a revision of a part needs. One function a deed; what was changed is kept with the part."""

from collections.abc import Iterable, Mapping, Sequence
from datetime import datetime
from typing import Any

from django.db import transaction
from django.db.models import Max
from django.utils.translation import gettext as _

from shared.errors import Refused
from tooling.models import PartRevision, Person, SetLine, Tool
from tooling.services.saving import save
from tooling.services.set_instead import joined, namesake, parted
from tooling.services.set_kept import keep, lock
from tooling.services.set_rules import (
    alone,
    check_halves,
    check_item,
    check_new,
    missing_halves,
    would_be_alone,
    wrong_with,
)
from tooling.words.set_changes import STARTED, as_kept

_CHANGED = ("order", "required", "alternative")


@transaction.atomic
def add_line(
    revision: PartRevision,
    role: str,
    *,
    by: Person,
    at: datetime,
    tool: Tool | None = None,
    item: str = "",
    with_halves: bool = False,
    **columns: Any,
) -> list[SetLine]:
    """A tool, or hardware in words, comes into the set of a revision; `columns` are the others of a line.

    Order: lock the revision; refuse what cannot stand there; write the lines, with `with_halves` those of the other
    halves as well, and what was changed; refuse a half without the others. The lines, those of the other halves last.
    """
    lock(revision)
    item = " ".join(item.split())
    _check(role, tool, item)
    check_new(revision, tool, item)
    halves = missing_halves(revision, tool) if tool is not None and with_halves else []
    word = columns.pop("alternative", "")
    lines = [SetLine(revision=revision, role=role, tool=one, item=item, **columns) for one in (tool, *halves)]
    if not halves:
        lines[0].alternative = word
    for line in lines:
        save(line)
        keep(revision, by, at, after=as_kept(line))
    check_halves(lines[0])
    return [change_line(lines[0], by=by, at=at, columns={"alternative": word}), *lines[1:]] if halves else lines


@transaction.atomic
def change_line(
    line: SetLine,
    *,
    by: Person,
    at: datetime,
    columns: Mapping[str, Any],
    stands_in_for: SetLine | None = None,
    read: str | None = None,
) -> SetLine:
    """Changes the order of a line, whether it is required, what it is an alternative to, the words of hardware.

    Order: lock the revision; refuse what was changed since it was `read` (as it is kept), and words that cannot stand
    there; join the alternatives of `stands_in_for`, or leave those of before, the other halves with it; write the line
    and what was changed; refuse halves that would stand in alone; make the other halves required with it, or not.
    """
    lock(line.revision)
    line.refresh_from_db(fields=[*_CHANGED, "confirmed", "item"])
    before, word = as_kept(line), line.alternative
    if read is not None and before != read:
        raise Refused(_("Somebody changed this line meanwhile. Look at it as it is now, then change it again."))
    for name in (*_CHANGED, *(("item",) if line.tool is None else ())):
        if name in columns:
            setattr(line, name, columns[name])
    if line.tool is None:
        line.item = " ".join(line.item.split())
        _check(line.role, None, line.item)
        check_item(line.revision, line.item, but=line)
    _stand_in(line, word, stands_in_for, by, at)
    save(line)
    keep(line.revision, by, at, before=before, after=as_kept(line))
    if line.alternative != word:
        check_halves(line)
    for half in would_be_alone(line):
        if half.required != line.required:
            change_line(half, by=by, at=at, columns={"required": line.required})
    return line


def _stand_in(line: SetLine, before: str, other: SetLine | None, by: Person, at: datetime) -> None:
    """The word of its alternatives, as it was chosen: by another line, or by a word that others may have."""
    word, line.alternative = line.alternative, before
    if other is None and word != before:
        other = namesake(line, word)
    if other is not None:
        word = joined(line, other, by=by, at=at)
    elif before and word != before:
        parted(line, by=by, at=at)
    line.alternative = word


@transaction.atomic
def take_out(line: SetLine, *, by: Person, at: datetime, with_halves: bool = False) -> list[SetLine]:
    """A line leaves the set. Refused where another half would be left alone, unless `with_halves` takes it out too."""
    lock(line.revision)
    line.refresh_from_db(fields=[*_CHANGED, "confirmed"])
    halves = would_be_alone(line)
    if line.tool is not None and halves and not with_halves:
        raise Refused(alone(line.tool.code, [half.what for half in halves]), "tool")
    gone = [line, *halves]
    for one in gone:
        keep(line.revision, by, at, before=as_kept(one))
        SetLine.objects.filter(pk=one.pk).delete()
    return gone


@transaction.atomic
def put_back(revision: PartRevision, lines: Sequence[SetLine], *, by: Person, at: datetime) -> list[SetLine]:
    """Lines that left the set come back as they were, in their places: all of them or none."""
    lock(revision)
    newest = SetLine.objects.aggregate(newest=Max("pk"))["newest"] or 0
    for line in lines:
        check_new(revision, line.tool, line.item)
        # Its old key is its place. One that is not surely given out already is left to the database.
        if (line.pk or 0) >= newest or SetLine.objects.filter(pk=line.pk).exists():
            line.pk = None
        line.save(force_insert=True)
        keep(revision, by, at, after=as_kept(line))
    for line in lines:
        check_halves(line)
    return list(lines)


@transaction.atomic
def confirm(
    revision: PartRevision, *, by: Person, at: datetime, lines: Iterable[SetLine] | None = None
) -> list[SetLine]:
    """These lines (None: all) are right for this revision. Those that were confirmed already are left alone."""
    lock(revision)
    open_ones = revision.tool_set.filter(confirmed=False).select_related("tool").in_order()
    if lines is not None:
        open_ones = open_ones.filter(pk__in=[line.pk for line in lines])
    found = list(open_ones)
    for line in found:
        before, line.confirmed = as_kept(line), True
        line.save(update_fields=["confirmed"])
        keep(revision, by, at, before=before, after=as_kept(line))
    return found


def start_from(revision: PartRevision, other: PartRevision | None) -> None:
    """A new revision starts with the set of another one. Nobody has said yet that it is right: none is confirmed."""
    columns = ("role", "tool_id", "item", "order", "required", "alternative")
    lines = SetLine.objects.filter(revision=other).order_by("pk").values(*columns) if other is not None else ()
    SetLine.objects.bulk_create(SetLine(revision=revision, confirmed=False, **line) for line in lines)


@transaction.atomic
def restart(revision: PartRevision, other: PartRevision, *, by: Person, at: datetime) -> None:
    """An empty set starts with that of another revision, of this part or another one; none of it is confirmed."""
    lock(revision)
    if revision.tool_set.exists():
        raise Refused(_("Something is in this set already, so it was not begun anew. Add what is missing."))
    if not other.tool_set.exists():
        raise Refused(_("%(other)s has no tool set to begin with. Choose another one.") % {"other": other}, "part")
    start_from(revision, other)
    keep(revision, by, at, after=f"{STARTED} {other}")


def _check(role: str, tool: Tool | None, item: str) -> None:
    wrong = wrong_with(role, tool.code if tool else "", tool.kind if tool else "", item)
    if wrong is not None:
        raise Refused(wrong[1], wrong[0])
