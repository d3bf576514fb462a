"""The family of a plug with 200 descendants beside raw fetches of the same, and in how many statements."""

import sqlite3
from collections.abc import Iterator

from django.db import connection

from bench.measure import Row, Statements, in_turn, to_sqlite
from tooling.models import Kind, Tool
from tooling.selectors.family import family

GENERATIONS, EACH, QUERIES = 10, 20, 2


def measure() -> Iterator[Row]:
    """Ten generations of twenty; the tenth of each is what the next are made from. Molds have their histories."""
    plug = _family()
    heard = Statements()
    with heard.listen():
        found = family(plug)
    asked = [(to_sqlite(sql), tuple(params)) for sql, params in heard.kept]
    raw = sqlite3.connect(connection.settings_dict["NAME"])
    what = f"family of {GENERATIONS * EACH} off a plug, {len(found.tools)} tools / its rows, {len(asked)} statements"
    row = in_turn(Row(what, 4), lambda: family(plug), lambda: [raw.execute(*one).fetchall() for one in asked])
    if len(asked) > QUERIES:
        row.target, row.held = None, False
    yield row


def _family() -> Tool:
    """Tools of the synthetic shop, laid in generations below one plug."""
    plug = Tool.objects.filter(kind=Kind.PLUG, made_from=None).order_by("pk")[:1].get()
    others = Tool.objects.filter(kind=Kind.MOLD, matched_set="").exclude(pk=plug.pk).order_by("pk")
    tools, above = list(others.values_list("pk", flat=True)[: GENERATIONS * EACH]), plug.pk
    Tool.objects.filter(made_from__in=[plug.pk, *tools]).update(made_from=None)
    for first in range(0, len(tools), EACH):
        those = tools[first : first + EACH]
        Tool.objects.filter(pk__in=those).update(made_from=above)
        above = those[EACH // 2]
    return plug
