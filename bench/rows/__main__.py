"""python -m bench.rows NAME: measures one subject on the database of the settings; prints a line of JSON a row."""

import importlib
import json
import sys

import django


def main() -> None:
    """The subject's file is read when the program is set up: it may import models at its top."""
    django.setup()
    for row in importlib.import_module(f"bench.rows.{sys.argv[1]}").measure():
        print(json.dumps(row.as_json()), flush=True)


main()
