"""A tool set of as many tools as there may be, each word of it as long as it may be."""

from datetime import date
from decimal import Decimal

from tests.tooling.views.full_sheet import WIDEST, WORDS
from tests.tooling.views.works import ago, do, mold
from tooling.models import Kind, Part, PartRevision, Place, ReleaseSystem, SetLine

HARDWARE = 20


def fullest_set(system: ReleaseSystem, number: str = "W" * 80) -> PartRevision:
    """Twelve tools at six places, one lent, one lost, some held, with an alternative each; twenty lines of hardware."""
    revision = PartRevision.objects.create(
        part=Part.objects.create(number=number), revision="W" * 40, name=WIDEST, resin=WIDEST, process=WIDEST,
        cure_c=Decimal("60"), peak_c=Decimal("63.5"), layup_minutes=Decimal(150), in_mold_hours=Decimal(24),
    )  # fmt: skip
    places = [Place.objects.create(code=f"RACK-NORTH-END-{row}", name=WIDEST) for row in range(6)]
    for row in range(12):
        kind = (Kind.MOLD, Kind.INSERT, Kind.TRIM_MASK)[row % 3]
        for which in "AB":
            _line(system, revision, kind, f"WWWWWWWWWWWW{row:02}{which}", places[row % 6], row)
    for row in range(HARDWARE):
        SetLine.objects.create(revision=revision, role="hardware", item=f"{row:02} {WIDEST}"[:200])
    return revision


def _line(system: ReleaseSystem, revision: PartRevision, kind: str, code: str, place: Place, row: int) -> None:
    bare = kind == Kind.TRIM_MASK or code.endswith("B")
    more = {} if kind == Kind.TRIM_MASK else {"max_service_c": Decimal(70)}
    tool = mold(
        code, None if kind == Kind.TRIM_MASK else system, kind=kind, pulls=None if bare else 0,
        name=WIDEST, place=place, lift=WORDS[:300], mass_kg=Decimal("1234.567891"), **more,
    )  # fmt: skip
    if row % 4 == 0:
        do("hold", tool, at=ago(minutes=9), reason=WORDS[:200])
    if row == 5:
        do("lend", tool, at=ago(minutes=8), person=WIDEST, until=date(2026, 6, 1))
    SetLine.objects.create(revision=revision, role=kind, tool=tool, order=row + 1, alternative=f"{kind} {row}")
