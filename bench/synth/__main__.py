"""python -m bench.synth TOOLS ENTRIES SEED: a synthetic shop in the database that the settings name."""

import sys

import django
from django.core.management import call_command

from bench.synth.size import Size


def main() -> None:
    """Lay the tables, then fill them."""
    django.setup()
    from bench.synth.make import make

    call_command("migrate", verbosity=0)
    make(Size(*map(int, sys.argv[1:])))


main()
