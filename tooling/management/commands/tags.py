"""Tags as a PDF, the same pages as the screen makes."""

import json
from argparse import ArgumentParser, BooleanOptionalAction
from collections.abc import Callable
from pathlib import Path
from typing import Any

from django.conf import settings
from django.core.management.base import CommandError
from django.db.models import QuerySet
from django.utils.translation import ngettext

from shared import clock
from shared.commands import ShopCommand
from shared.paper import stocks
from shared.talking import progress_line
from tooling.models import Place, Shop, Tool, Units
from tooling.selectors.place_tree import below
from tooling.services.tags.printing import Chosen, Printed, make
from tooling.words.tag_site import Site, against, site


class Command(ShopCommand):
    help = "Writes tags into a PDF: of the tools named, of all, of those of a place, or of places."

    def add_arguments(self, parser: ArgumentParser) -> None:
        """CODE ... | --all | --place P, --places, what they are printed on, --output FILE"""
        parser.add_argument("codes", nargs="*", metavar="CODE", help="tools; with --places places")
        parser.add_argument("--all", action="store_true", help="every tool, retired ones as well")
        parser.add_argument("--place", metavar="P", help="tools whose home is that place or lies within it")
        parser.add_argument(
            "--places", action="store_true", help="tags of places: those named, with --place that one and all within it"
        )
        parser.add_argument("--held", action="store_true", help="the tags that hang on tools while they are held")
        parser.add_argument("--stock", default="", metavar="NAME", help=f"{', '.join(stocks.NAMES)} (default: label)")
        parser.add_argument("--size", metavar="90x50", help="a size of tag in mm; on a sheet it fills the sheet")
        parser.add_argument("--start", type=int, default=1, metavar="N", help="the first free place of a used sheet")
        parser.add_argument("--cut-marks", action="store_true", help="marks around the tags of a sheet")
        parser.add_argument("--gates", action=BooleanOptionalAction, default=True, help="a row for the tally in pencil")
        parser.add_argument("--units", choices=Units.values, default=Units.METRIC)
        parser.add_argument("--output", required=True, type=Path, metavar="FILE.pdf")
        parser.add_argument("--format", choices=("text", "json"), default="text")

    def handle(self, *args: Any, **options: Any) -> None:
        """Writes the file and says what is in it."""
        size = stocks.read_size(options["size"]) if options["size"] is not None else None
        stock = stocks.stock(options["stock"] or ("" if size else stocks.LABEL), size)
        chosen = _chosen(**options)
        where = site(settings.SITE_URL, Shop.current().tag_address)
        if warning := _warning(where):
            self.stderr.write(warning)
        with progress_line(self.stderr) as tell:
            printed = make(
                chosen, options["output"], at=clock.now(), stock=stock, units=options["units"],
                site_url=settings.SITE_URL, start=options["start"], cut_marks=options["cut_marks"],
                gates=options["gates"], progress=tell,
            )  # fmt: skip
        if options["format"] == "json":
            self.stdout.write(json.dumps(_as_json(options["output"], stock, printed, warning), indent=1))
            return
        tags = ngettext("%(n)d tag", "%(n)d tags", printed.tags) % {"n": printed.tags}
        pages = ngettext("%(n)d page", "%(n)d pages", printed.pages) % {"n": printed.pages}
        self.stdout.write(f"{options['output']}: {tags} on {pages}, {stock.name}.")
        for code, names in printed.left_out.items():
            self.stdout.write(f"{code}: no room for {', '.join(names)}")


def _chosen(*, codes: list[str], all: bool, place: str | None, places: bool, held: bool, **_options: Any) -> Chosen:
    if sum((bool(codes), all, place is not None)) > 1:
        raise CommandError("Name codes, or say --all, or --place: one of them.")
    if not (codes or all or place is not None or places):
        raise CommandError("Say which tags: codes, --all, --place P or --places.")
    if places and (all or held):
        raise CommandError("--places are tags of places: they go with codes of places or with --place.")
    within = below([_named(Place.objects.called, [place], "place")[0]]) if place is not None else None
    if places:
        return Chosen(places=_of_places(codes, within))
    tools = _named(Tool.objects.called, codes, "tool") if codes else _of_tools(within)
    return Chosen(tools=_only_held(tools, named=bool(codes)) if held else tools, held=held)


def _of_places(codes: list[str], within: set[int] | None) -> list[int]:
    if codes:
        return _named(Place.objects.called, codes, "place")
    places = Place.objects.order_by("code")
    return list((places if within is None else places.filter(pk__in=within)).values_list("pk", flat=True))


def _of_tools(within: set[int] | None) -> list[int]:
    tools = Tool.objects.order_by("code")
    return list((tools if within is None else tools.filter(summary__home__in=within)).values_list("pk", flat=True))


def _only_held(tools: list[int], *, named: bool) -> list[int]:
    held = set(Tool.objects.held().filter(pk__in=tools).values_list("pk", flat=True))
    if named and (free := [key for key in tools if key not in held]):
        names = ", ".join(Tool.objects.filter(pk__in=free).values_list("code", flat=True))
        raise CommandError(f"Not held, or retired, so that no tag hangs on it: {names}.")
    return [key for key in tools if key in held]


def _named(called: Callable[[str], QuerySet[Any]], codes: list[str], what: str) -> list[int]:
    """The keys of what is called so, each once; all that is unknown is named in one sentence."""
    found = {code: called(code).values_list("pk", flat=True).first() for code in codes}
    if unknown := [code for code, key in found.items() if key is None]:
        raise CommandError(f"There is no {what} {', '.join(unknown)}.")
    return list(dict.fromkeys(key for key in found.values() if key is not None))


def _warning(where: Site) -> str:
    warning = against(where)
    return f"{warning} Give the shop an address of the house: {where.line}" if where.line else warning


def _as_json(path: Path, stock: stocks.Stock, printed: Printed, warning: str) -> dict[str, Any]:
    left_out = {code: list(names) for code, names in printed.left_out.items()}
    return {
        "file": str(path), "stock": stock.name, "tags": printed.tags, "pages": printed.pages,
        "left_out": left_out, "warnings": [warning] if warning else [],
    }  # fmt: skip
