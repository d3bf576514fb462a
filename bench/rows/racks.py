"""A rack of 500 tools: what is drawn of it beside a raw fetch of its rows, and its page beside the rows as JSON."""

import sqlite3
from collections.abc import Iterator
from datetime import timedelta

from django.core.wsgi import get_wsgi_application
from django.db import connection
from django.test import override_settings

from bench.measure import Row, Statements, in_turn
from bench.rows.request import PLAIN, as_json, asked, in_place, signed_in
from bench.synth.make import END
from shared import clock
from tooling.models import Kind, Person, Place, PlaceKind, Summary, Tool
from tooling.selectors.rack import racks

TOOLS, SHELVES, BAYS = 500, 5, 4

# As it must come out for somebody who knows already where they lie.
FETCH = """
SELECT * FROM tooling_tool JOIN tooling_summary ON tooling_summary.tool_id = tooling_tool.id
WHERE tooling_summary.lies IN ({places})
"""


def measure() -> Iterator[Row]:
    """The drawing, then the whole page with how many queries and bytes it takes."""
    rack = laden()
    places = [
        rack.pk,
        *Place.objects.filter(code__startswith="BENCH-").exclude(pk=rack.pk).values_list("pk", flat=True),
    ]
    raw = sqlite3.connect(connection.settings_dict["NAME"])
    sql = FETCH.format(places=", ".join("?" * len(places)))
    drawn = sum(len(one.drawn) for one in racks(rack))
    what = f"drawing of a rack of {drawn} tools in {_queries(rack)} queries"
    yield in_turn(Row(what, 15), lambda: racks(rack), lambda: raw.execute(sql, places).fetchall(), rounds=21)
    cookie = signed_in(Person.objects.filter(role="lead").first() or Person.objects.create_person("Lead", "lead"))
    shown = list(Summary.objects.filter(lies__in=places).values_list("pk", flat=True))
    with in_place():
        program = get_wsgi_application()
        with override_settings(MIDDLEWARE=PLAIN):
            plain = get_wsgi_application()
        page = asked(program, "/racks/BENCH-RACK/", cookie)
        with clock.set_to(END):
            what = f"request of a rack of {len(shown)} tools, {len(page()) / 1000:.0f} kB without pictures"
            yield in_turn(Row(what, 40), page, as_json(plain, shown))


def _queries(rack: Place) -> int:
    asked_for = Statements()
    with asked_for.listen():
        racks(rack)
    return len(asked_for.kept)


def laden() -> Place:
    """A rack with bays on which the first tools of the shop lie, each tenth away from its home."""
    rack = Place.objects.create(code="BENCH-RACK", name="Rack", kind=PlaceKind.RACK)
    bays = []
    for shelf in range(1, SHELVES + 1):
        on = Place.objects.create(code=f"BENCH-{shelf}", name=f"Shelf {shelf}", kind=PlaceKind.SHELF, parent=rack)
        bays += [
            Place.objects.create(code=f"BENCH-{shelf}-{bay}", name=f"Bay {bay}", kind=PlaceKind.BAY, parent=on)
            for bay in range(1, BAYS + 1)
        ]
    keys = list(Tool.objects.filter(kind=Kind.MOLD, summary__retired=False).order_by("pk").values_list("pk", flat=True))
    for nth, key in enumerate(keys[:TOOLS]):
        Tool.objects.filter(pk=key).update(mass_kg=20, length_mm=900 + nth, width_mm=500, height_mm=300)
        home, seen = bays[nth % len(bays)], bays[(nth + (nth % 10 == 0)) % len(bays)]
        Summary.objects.filter(tool=key).update(home=home, seen_place=seen, seen_at=END - timedelta(days=1), lent=False)
    return rack
