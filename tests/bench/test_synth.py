"""A synthetic shop is what the services would have left, and always the same one."""

import pytest
from django.db import transaction

from bench.synth.make import END, make
from bench.synth.size import Size
from shared import clock
from tooling.models import Entry, Flag, Kind, Span, Summary, Tool
from tooling.services.deeds.undo import facts_of
from tooling.services.ledger import record
from tooling.services.tools import add_tool
from tooling.services.whole_check import findings

pytestmark = [pytest.mark.django_db, pytest.mark.sqlite]
SMALL = Size(tools=40, entries=2_000)
SPAN = ("rank", "status", "from_at", "until_at", "pulls_left", "ready_at", "detail")


def test_the_same_size_and_seed_give_the_same_shop():
    heads = []
    for _time in range(2):
        with transaction.atomic():
            make(Size(tools=10, entries=300, seed=7))
            heads.append(list(Summary.objects.order_by("tool__code").values_list("count", "state")))
            transaction.set_rollback(True)
    assert heads[0] == heads[1]


@pytest.fixture
def shop():
    make(SMALL)


def test_nothing_is_wrong_with_it(shop):
    with clock.set_to(END):
        assert not list(findings())
    assert (Tool.objects.count(), Entry.objects.count()) == (SMALL.tools, SMALL.entries)
    assert Summary.objects.exclude(in_mold_of=None).exists()
    assert Entry.objects.filter(kind="void").exists()
    assert Entry.objects.latest("id").at <= END


def test_told_again_to_the_ledger_it_comes_out_the_same(shop):
    """A mold with its insert and a plug: their entries, written one by one, lead to equal columns, flags and spans."""
    insert = Summary.objects.exclude(in_mold_of=None).order_by("-count").first()
    plug = Summary.objects.filter(tool__kind=Kind.PLUG).order_by("-count").first()
    originals = [insert.in_mold_of, insert.tool, plug.tool]
    copies = {tool.pk: add_tool(**columns_of(tool)) for tool in originals}
    tell_again(copies)
    for pk, copy in copies.items():
        assert columns(copy.pk) == columns(pk)
        assert flags(copy.pk) == flags(pk)
        assert spans(copy.pk, {copy.pk: pk for pk, copy in copies.items()}) == spans(pk, {})


def columns_of(tool):
    return {
        "code": f"AGAIN-{tool.pk}", "kind": tool.kind, "name": "again", "release_system": tool.release_system,
        "place": tool.place,
    }  # fmt: skip


def tell_again(copies):
    written = {}
    for entry in Entry.objects.filter(tool__in=list(copies)).order_by("id").select_related("by"):
        said = {name: value for name, value in facts_of(entry).items() if name != "mold"}
        if entry.mold_id:
            said["mold"] = copies[entry.mold_id]
        with clock.set_to(entry.recorded_at):
            written[entry.pk] = record(
                copies[entry.tool_id], entry.kind, by=entry.by, recorded_by=entry.by, at=entry.at,
                voids=written.get(entry.voids_id), **said,
            )  # fmt: skip


def columns(tool):
    """All that is kept of a tool, but for what names its entries by the shop's own numbers."""
    found = Summary.objects.filter(tool=tool).values().get()
    for name in ("tool_id", "head", "last_key", "in_mold_of_id"):
        del found[name]
    found["state"] = {name: value for name, value in found["state"].items() if name not in ("holds", "part")}
    return found


def flags(tool):
    return list(Flag.objects.filter(surface=tool).order_by("entry", "flag").values_list("entry__number", "flag"))


def spans(tool, original_of):
    rows = list(Span.objects.filter(tool=tool).order_by("from_at").values(*SPAN))
    for row in rows:
        surface = row["detail"].get("surface")
        if surface in original_of:
            row["detail"]["surface"] = original_of[surface]
    return rows
