"""The tools that one deed may touch, locked in one order: molds first, then inserts, each by its id."""

from dataclasses import dataclass

from django.db.models import QuerySet
from django.utils.translation import gettext as _

from shared.errors import Refused
from tooling.models import Entry, Kind, Summary, Tool


@dataclass(frozen=True)
class Family:
    """A tool with the molds and mold inserts that its history is tied to. All but `beside` are locked."""

    tool: Summary
    molds: dict[int, Summary]
    inserts: dict[int, Summary]
    beside: dict[int, Summary]

    def all(self) -> dict[int, Summary]:
        """Every summary of the family by its tool's id."""
        return {**self.beside, **self.molds, **self.inserts, self.tool.tool_id: self.tool}

    def installed(self, mold: int) -> list[Summary]:
        """The inserts that are in a mold by their summaries, in code order."""
        everyone = {**self.beside, **self.inserts}.values()
        return sorted((one for one in everyone if one.in_mold_of_id == mold), key=lambda one: one.tool.code)


def lock(tool: Tool, named_mold: int | None = None) -> Family:
    """Locks the family of a tool. Call it first inside the transaction.

    An insert's molds are read before they are locked. Where another deed installed it elsewhere in between, the
    insert's own lock shows it; this deed then gives way, since to lock a mold after an insert could block both.
    """
    if tool.kind != Kind.INSERT:
        return _lock_from_above(tool)
    molds = _molds_of(tool, named_mold)
    locked = {one.tool_id: one for one in _locked(Summary.objects.filter(tool__in=molds))}
    own = _locked(Summary.objects.filter(tool=tool)).get()
    if not _molds_of(tool, named_mold) <= molds:
        raise Refused(_("This mold insert was installed elsewhere at this very moment. Try once more."))
    beside = _with_tools(Summary.objects.filter(in_mold_of__in=molds).exclude(tool=tool))
    return Family(own, locked, {own.tool_id: own}, {one.tool_id: one for one in beside})


def _lock_from_above(tool: Tool) -> Family:
    own = _locked(Summary.objects.filter(tool=tool)).get()
    if tool.kind not in Kind.TAKES_INSERTS:
        return Family(own, {}, {}, {})
    # Most molds never had an insert: the short question spares them the long one.
    ever = set(Entry.objects.filter(mold=tool, kind="installed").values_list("tool_id", flat=True))
    inserts = _locked(Summary.objects.filter(tool__in=ever)) if ever else ()
    return Family(own, {own.tool_id: own}, {one.tool_id: one for one in inserts}, {})


def _molds_of(insert: Tool, named_mold: int | None) -> set[int]:
    ever = Entry.objects.filter(tool=insert, kind="installed").values_list("mold_id", flat=True)
    return {mold for mold in (*ever, named_mold) if mold is not None}


def _with_tools(summaries: QuerySet[Summary]) -> QuerySet[Summary]:
    return summaries.select_related("tool__release_system")


def _locked(summaries: QuerySet[Summary]) -> QuerySet[Summary]:
    return _with_tools(summaries).select_for_update(of=("self",)).order_by("tool_id")
