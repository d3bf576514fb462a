"""Tool sets: what a revision of a part needs. One function a deed; what was changed is kept with the part."""

from collections.abc import Iterable, Mapping
from datetime import datetime
from typing import Any

from django.db import transaction
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from shared.errors import Refused
from tooling.models import PartChange, PartRevision, Person, SetLine, SetRole, Summary, Tool
from tooling.selectors.matched import halves_of
from tooling.services.saving import save
from tooling.words.terms import KINDS, term

# What is kept of a change: lines are no column of a revision.
FIELD = "tool_set"
_ONLY = {
    SetRole.MOLD: gettext_lazy("Only a mold can stand here as a mold; %(tool)s is a %(kind)s."),
    SetRole.INSERT: gettext_lazy("Only a mold insert can stand here as a mold insert; %(tool)s is a %(kind)s."),
    SetRole.TRIM_MASK: gettext_lazy("Only a trim mask can stand here as a trim mask; %(tool)s is a %(kind)s."),
}


def wrong_with(role: str, tool: str, kind: str, item: str) -> tuple[str, str] | None:
    """What no line of a set can say, as column and sentence; None where it can. kind: "" where nobody knows it."""
    if role == SetRole.HARDWARE:
        if tool:
            return "tool", _("Hardware is said in words: leave the tool empty.")
        return None if item else ("item", _("Say in words what hardware it is."))
    if not tool:
        return "tool", _("Say which tool it is.")
    if item:
        return "item", _("Only hardware is said in words: leave this empty.")
    if kind and kind != SetRole.TAKES[role]:
        return "tool", str(_ONLY[SetRole(role)]) % {"tool": tool, "kind": term(KINDS, kind)}
    return None


def retired(tool: str) -> str:
    """Why a retired tool does not come into a set."""
    return _("%(tool)s is retired. Choose another tool, or reinstate it first.") % {"tool": tool}


def alone(half: str, others: Iterable[str]) -> str:
    """Why one half does not come into a set, nor stay in it, by itself."""
    text = _("%(tool)s closes on one part with %(others)s: they stand in a set together or not at all.")
    return text % {"tool": half, "others": ", ".join(others)}


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

    Order: lock the revision; refuse what cannot stand there, and a half without the others unless `with_halves`
    brings them in as well; write the lines and what was changed. The lines, those of the other halves last.
    """
    _lock(revision)
    item = " ".join(item.split())
    wrong = wrong_with(role, tool.code if tool else "", tool.kind if tool else "", item)
    if wrong is not None:
        raise Refused(wrong[1], wrong[0])
    there = set(revision.tool_set.exclude(tool=None).values_list("tool", flat=True))
    halves = [half for half in halves_of(tool) if half.pk not in there] if tool is not None else []
    if tool is not None and halves and not with_halves:
        raise Refused(alone(tool.code, [half.code for half in halves]), "tool")
    if tool is not None and Summary.objects.filter(tool=tool, retired=True).exists():
        raise Refused(retired(tool.code), "tool")
    if tool is None and _has_item(revision, item):
        raise Refused(_("This hardware is in the set already."), "item")
    if tool is not None and tool.pk in there:
        raise Refused(_("%(tool)s is in this set already.") % {"tool": tool.code}, "tool")
    lines = [SetLine(revision=revision, role=role, tool=one, item=item, **columns) for one in (tool, *halves)]
    for line in lines:
        save(line)
        _keep(revision, by, at, after=said(line))
    return lines


@transaction.atomic
def change_line(line: SetLine, *, by: Person, at: datetime, columns: Mapping[str, Any]) -> SetLine:
    """Changes the order of a line, whether it is required, or what it is an alternative to."""
    _lock(line.revision)
    line.refresh_from_db(fields=["order", "required", "alternative", "confirmed"])
    before = said(line)
    for name in ("order", "required", "alternative"):
        if name in columns:
            setattr(line, name, columns[name])
    save(line)
    _keep(line.revision, by, at, before=before, after=said(line))
    return line


@transaction.atomic
def take_out(line: SetLine, *, by: Person, at: datetime, with_halves: bool = False) -> list[SetLine]:
    """A line leaves the set. Refused where another half would be left alone, unless `with_halves` takes it out too."""
    _lock(line.revision)
    halves = _would_be_alone(line)
    if line.tool is not None and halves and not with_halves:
        raise Refused(alone(line.tool.code, [half.what for half in halves]), "tool")
    gone = [line, *halves]
    for one in gone:
        _keep(line.revision, by, at, before=said(one))
        one.delete()
    return gone


@transaction.atomic
def confirm(
    revision: PartRevision, *, by: Person, at: datetime, lines: Iterable[SetLine] | None = None
) -> list[SetLine]:
    """These lines (None: all) are right for this revision. Those that were confirmed already are left alone."""
    _lock(revision)
    open_ones = revision.tool_set.filter(confirmed=False).select_related("tool").in_order()
    if lines is not None:
        open_ones = open_ones.filter(pk__in=[line.pk for line in lines])
    found = list(open_ones)
    for line in found:
        before, line.confirmed = said(line), True
        line.save(update_fields=["confirmed"])
        _keep(revision, by, at, before=before, after=said(line))
    return found


def start_from(revision: PartRevision, other: PartRevision | None) -> None:
    """A new revision starts with the set of another one. Nobody has said yet that it is right: none is confirmed."""
    columns = ("role", "tool_id", "item", "order", "required", "alternative")
    lines = SetLine.objects.filter(revision=other).order_by("pk").values(*columns) if other is not None else ()
    SetLine.objects.bulk_create(SetLine(revision=revision, confirmed=False, **line) for line in lines)


def said(line: SetLine) -> str:
    """A line in plain words, the same on every machine."""
    more = [
        f"no. {line.order}" if line.order is not None else "",
        "" if line.required else "optional",
        f"alternative {line.alternative}" if line.alternative else "",
        "" if line.confirmed else "not confirmed",
    ]
    return ", ".join(filter(None, (f"{line.role} {line.what}", *more)))


def _lock(revision: PartRevision) -> None:
    """Two people who change one set come one after the other."""
    PartRevision.objects.select_for_update(of=("self",)).get(pk=revision.pk)


def _has_item(revision: PartRevision, item: str) -> bool:
    known = revision.tool_set.exclude(item="").values_list("item", flat=True)
    return item.casefold() in {one.casefold() for one in known}


def _would_be_alone(line: SetLine) -> list[SetLine]:
    """The lines of the set whose tools close on one part with this one."""
    tool = line.tool
    if tool is None or not Summary.objects.filter(tool=tool, retired=False, making=False).exists():
        return []
    halves = [half.pk for half in halves_of(tool)]
    return list(line.revision.tool_set.filter(tool__in=halves).select_related("tool").order_by("pk"))


def _keep(revision: PartRevision, by: Person, at: datetime, *, before: str = "", after: str = "") -> None:
    if before != after:
        PartChange.objects.create(
            part_id=revision.part_id, revision=revision, at=at, who=by, field=FIELD, before=before, after=after
        )
