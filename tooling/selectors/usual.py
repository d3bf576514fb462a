"""What is usual in this shop for a tool of each kind."""

from django.db.models import Count

from tooling.models import Kind, ReleaseSystem, Summary

# The starter recipes that were written for a kind.
_STARTERS = {Kind.PLUG: ("WAX-PLUG",), Kind.MOLD: ("WAX", "SEMI"), Kind.INSERT: ("WAX-INSERT",)}


def usual_recipes() -> dict[str, ReleaseSystem]:
    """The recipe of each kind with a surface: its starter recipe, where the shop took one in, else the one that most of
    its tools are on. Of two starters it is the one with more tools; a kind of which nothing is known is left out.
    """
    systems = {system.code: system for system in ReleaseSystem.objects.order_by("code")}
    tools = Summary.objects.filter(retired=False).order_by().values_list("tool__kind", "state__system")
    counts = {(kind, code): n for kind, code, n in tools.annotate(n=Count("pk"))}
    found = {}
    for kind, starters in _STARTERS.items():
        there = [code for code in starters if code in systems]
        used = [code for code in systems if counts.get((kind, code))]
        if there or used:
            found[str(kind)] = systems[max(there or used, key=lambda code: counts.get((kind, code), 0))]
    return found
