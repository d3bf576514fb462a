"""The tools that one deed may touch, locked in one order: molds first, then inserts, each by its id."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from django.db import connection
from django.db.models import QuerySet

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


class FamilyMoved(Exception):
    """An insert was installed elsewhere between the look and the lock: nothing is written, look and lock anew."""


def lock(tool: Tool, named_mold: int | None = None) -> Family:
    """Locks the family of a tool. Call it first inside the transaction.

    An insert is tied to every mold that it was ever in; a mold to every insert that was ever in it, and to the molds
    that these are in now, whose state has theirs in it. Which these are is read before they are locked. Raises
    FamilyMoved where that has changed since: to lock a mold after an insert could block two deeds for ever.
    """
    if tool.kind == Kind.INSERT:
        return _lock_from_below(tool, named_mold)
    if tool.kind in Kind.TAKES_INSERTS:
        return _lock_from_above(tool)
    return Family(_locked(Summary.objects.filter(tool=tool)).get(), {}, {}, {})


def lock_together(tools: Sequence[Tool]) -> None:
    """Locks the families of several tools that one deed writes to, before it writes to the first of them.

    One after the other would lock a mold behind the inserts of the one before. Raises FamilyMoved as `lock` does.
    """
    if not _others_lock():
        return
    alone = [tool for tool in tools if tool.kind == Kind.INSERT]
    named = {tool.pk for tool in tools if tool.kind != Kind.INSERT}
    ever = _ever_in(named)
    above = _molds_now(ever).union(*(_molds_of(insert, None) for insert in alone))
    locked = {one.tool_id for one in _locked(Summary.objects.filter(tool__in=named | above))}
    inserts = list(_locked(Summary.objects.filter(tool__in=ever | {insert.pk for insert in alone})))
    now = {one.in_mold_of_id for one in inserts if one.in_mold_of_id is not None}
    if not (now <= locked and _ever_in(named) <= ever):
        raise FamilyMoved


def _ever_in(molds: Iterable[int]) -> set[int]:
    return set(Entry.objects.filter(mold__in=molds, kind="installed").values_list("tool_id", flat=True))


def reached_by(tool: Tool, named_mold: int | None = None) -> set[int]:
    """The tools whose state a deed on the tool may change: its family, read and not locked."""
    if tool.kind == Kind.INSERT:
        return {tool.pk, *_molds_of(tool, named_mold)}
    if tool.kind in Kind.TAKES_INSERTS:
        ever = _inserts_of(tool)
        return {tool.pk, *ever, *(_molds_now(ever) if ever else ())}
    return {tool.pk}


def lock_all(tools: Iterable[Tool]) -> None:
    """Locks the families of several tools in the one order, before the first of several deeds in one transaction."""
    wanted = set().union(*(reached_by(tool) for tool in tools))
    if not _others_lock():
        return
    for one in (Summary.objects.exclude(tool__kind=Kind.INSERT), Summary.objects.filter(tool__kind=Kind.INSERT)):
        list(_locked(one.filter(tool__in=wanted)))


def _lock_from_below(insert: Tool, named_mold: int | None) -> Family:
    molds = _molds_of(insert, named_mold)
    locked = {one.tool_id: one for one in _locked(Summary.objects.filter(tool__in=molds))}
    own = _locked(Summary.objects.filter(tool=insert)).get()
    if _others_lock() and not _molds_of(insert, named_mold) <= molds:
        raise FamilyMoved
    return Family(own, locked, {own.tool_id: own}, _beside(locked, [own.tool_id]))


def _lock_from_above(mold: Tool) -> Family:
    # Most molds never had an insert: the short question spares them the long ones.
    ever = _inserts_of(mold)
    elsewhere = _molds_now(ever) if ever else set()
    molds = {one.tool_id: one for one in _locked(Summary.objects.filter(tool__in={mold.pk, *elsewhere}))}
    inserts = {one.tool_id: one for one in _locked(Summary.objects.filter(tool__in=ever))} if ever else {}
    if _others_lock():
        now = {one.in_mold_of_id for one in inserts.values() if one.in_mold_of_id is not None}
        if not (now <= molds.keys() and _inserts_of(mold) <= ever):
            raise FamilyMoved
    return Family(molds[mold.pk], molds, inserts, _beside(elsewhere, ever) if elsewhere - {mold.pk} else {})


def _others_lock() -> bool:
    """False where the transaction is the only one that writes, as on SQLite."""
    return connection.features.has_select_for_update


def _inserts_of(mold: Tool) -> set[int]:
    return set(Entry.objects.filter(mold=mold, kind="installed").values_list("tool_id", flat=True))


def _molds_now(inserts: Iterable[int]) -> set[int]:
    molds = Summary.objects.filter(tool__in=inserts).values_list("in_mold_of_id", flat=True)
    return {mold for mold in molds if mold is not None}


def _beside(molds: Iterable[int], but: Iterable[int]) -> dict[int, Summary]:
    """The other inserts in these molds: read, not locked. A deed on one of them has to lock the mold first."""
    beside = _with_tools(Summary.objects.filter(in_mold_of__in=list(molds)).exclude(tool__in=list(but)))
    return {one.tool_id: one for one in beside}


def _molds_of(insert: Tool, named_mold: int | None) -> set[int]:
    ever = Entry.objects.filter(tool=insert, kind="installed").values_list("mold_id", flat=True)
    return {mold for mold in (*ever, named_mold) if mold is not None}


def _with_tools(summaries: QuerySet[Summary]) -> QuerySet[Summary]:
    return summaries.select_related("tool__release_system")


def _locked(summaries: QuerySet[Summary]) -> QuerySet[Summary]:
    return _with_tools(summaries).select_for_update(of=("self",)).order_by("tool_id")
