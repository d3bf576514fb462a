"""Makes a synthetic shop in an empty database."""

from datetime import UTC, datetime

from django.db import transaction

from bench.synth import catalogue, finish
from bench.synth.course import histories
from bench.synth.size import Size
from bench.synth.writer import Writer
from shared import clock

# The moment after the shop's last entry; every question of the bench is asked then.
END = datetime(2026, 3, 2, 15, 0, tzinfo=UTC)


@transaction.atomic
def make(size: Size) -> None:
    """Writes the shop, all or nothing."""
    with clock.set_to(END):
        works = catalogue.create(size)
        writer = Writer(works)
        for deed in histories(works, catalogue.plans(works, size, END), size.seed):
            writer.write(deed)
        writer.flush()
        finish.lay(works, writer)
