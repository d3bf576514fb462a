"""Twenty molds to write on, and what must be true of them afterwards."""

from collections import Counter
from uuid import UUID

from django.db.models import Count, Q

from tests.faults.crew import Job
from tooling.management.commands.check_history import findings
from tooling.models import Kind, Shop, Summary
from tooling.services import starters
from tooling.services.tools import add_tool

TOOLS = 20


def open_shop() -> list[int]:
    """A shop with molds on one recipe; returns their keys."""
    Shop(name="Faults", time_zone="UTC").save()
    system = starters.add_starter("WAX").system
    molds = (add_tool(code=f"M-{n}", name=f"Mold {n}", kind=Kind.MOLD, release_system=system) for n in range(TOOLS))
    return [mold.pk for mold in molds]


def must_agree(jobs: list[Job], acknowledged: list[UUID]) -> None:
    """Every acknowledged pull is in the log once, every count equals the log, and nothing is wrong anywhere."""
    wanted = Counter(tool for tool, token in jobs if token in set(acknowledged))
    pulls = Count("tool__entries", filter=Q(tool__entries__kind="pull"))
    rows = Summary.objects.annotate(pulls=pulls).values_list("tool_id", "total_pulls", "count", "pulls")
    assert {tool: (total, count, logged) for tool, total, count, logged in rows} == {
        tool: (wanted[tool],) * 3 for tool in {tool for tool, _ in jobs}
    }
    assert not list(findings())
