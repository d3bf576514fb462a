"""Twenty molds to write on, some with an insert, some in pairs, and what must be true of them afterwards."""

from collections import Counter
from uuid import UUID

from django.db.models import Count, Q

from tests.faults.crew import Job
from tooling.models import Kind, Shop, Summary, Tool
from tooling.services import deeds, starters
from tooling.services.tools import add_tool
from tooling.services.whole_check import findings

TOOLS = 20
WITH_INSERT = 4  # every fourth
PAIRED = 5  # of each five the second and the third close on one part


def open_shop(tools: int = TOOLS) -> list[int]:
    """A shop with molds on one recipe, some with an insert, some in pairs; returns the keys of the molds."""
    Shop(name="Faults", time_zone="UTC").save()
    system = starters.add_starter("WAX").system
    about = {"kind": Kind.MOLD, "release_system": system}
    molds = [add_tool(code=f"M-{n}", name=f"Mold {n}", matched_set=set_of(n), **about) for n in range(tools)]
    for mold in molds[::WITH_INSERT]:
        insert = add_tool(code=f"IN-{mold.code}", name="Insert", kind=Kind.INSERT, release_system=system)
        deeds.install(insert, mold=mold, by=None, recorded_by=None)
    return [mold.pk for mold in molds]


def set_of(number: int) -> str:
    """The matched set of a mold by its number; nothing for one by itself."""
    return f"Pair {number // PAIRED}" if number % PAIRED in (1, 2) else ""


def must_agree(jobs: list[Job], acknowledged: list[UUID]) -> None:
    """Every acknowledged pull is in the log once, every count equals the log, and nothing is wrong anywhere."""
    done = set(acknowledged)
    sets = dict(Tool.objects.exclude(matched_set="").values_list("pk", "matched_set"))
    # What comes off one half of a pair comes off both.
    told = Counter(sets.get(tool, tool) for tool, token in jobs if token in done)
    wanted = {tool: told[sets.get(tool, tool)] for tool, _ in jobs}
    pulls = Count("tool__entries", filter=Q(tool__entries__kind="pull"))
    rows = Summary.objects.filter(tool__kind=Kind.MOLD).annotate(pulls=pulls)
    rows = rows.values_list("tool_id", "total_pulls", "count", "pulls")
    assert {tool: (total, count, logged) for tool, total, count, logged in rows} == {
        tool: (pulls_of,) * 3 for tool, pulls_of in wanted.items()
    }
    for total, of_mold in Summary.objects.exclude(in_mold_of=None).values_list("total_pulls", "in_mold_of"):
        assert total == wanted[of_mold]
    assert not list(findings())
