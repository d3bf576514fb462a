"""A mold about which as much is known as can be, each word as long as it may be or longer than anybody reads."""

from datetime import timedelta
from decimal import Decimal

from tests.tooling.views.works import NOW, ago, do, mold
from tooling.models import Kind, Person, Place, ReleaseSystem, Tool
from tooling.services.tools import add_tool

WORDS = "deep scratch beside the anchor locker, found when the liner was already half laid up; " * 30
WIDEST = "W" * 200


def fullest(system: ReleaseSystem, code: str = "WWWWWWWW-1234.56") -> Tool:
    """The mold, held, with twelve inserts and entries that were written late, corrected and voided."""
    who = Person.objects.create_person("W" * 80, "hand", "long enough for a test")
    home = Place.objects.create(code="RACK-NORTH-END-3", name=WIDEST)
    plug = add_tool(code="WWWWWWWWWWWWWWWW", kind=Kind.PLUG, name=WIDEST)
    sizes = dict.fromkeys(("length_mm", "width_mm", "height_mm"), Decimal("12345.678901"))
    tool = mold(
        code, system, name=WIDEST, place=home, made_from=plug, matched_set="W" * 80, hand="R", owner=WORDS, lift=WORDS,
        owner_ref=WORDS, construction=WORDS, note=WORDS, mass_kg=Decimal("1234.567891"), max_service_c=Decimal("63.5"),
        inspect_every_pulls=3, inspect_every_days=30, **sizes,
    )  # fmt: skip
    for number in range(12):
        insert = mold(f"WWWWWWWWWWWWWW{number:02}", system, kind=Kind.INSERT, name=WIDEST)
        do("install", insert, mold=tool, at=ago(hours=9))
    for number in range(14):
        note = do("take_note", tool, by=who, at=ago(minutes=400 - number), note=WORDS)
        if number % 2:
            note = do("correct", note, by=who, changes={"note": WORDS + "."}, reason=WORDS)
        do("void", note, by=who, reason=WORDS)
    for _ in range(5):
        do("hold", tool, by=who, at=NOW - timedelta(minutes=9), reason=WORDS)
    do("tell_lead", tool, by=who, note=WORDS)
    return tool
