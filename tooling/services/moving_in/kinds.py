"""The jobs of moving in and out, made known without what they need: a workbook's library takes its time to load."""

from typing import Any

from django.urls import reverse
from django.utils.translation import gettext_lazy as _

from tooling.services.jobs import Outcome, Progress, registry


def make_known() -> None:
    """Called when the program starts."""
    registry.register("try_sheets", _try, title=_("Trying a workbook"), goes_on=_page)
    registry.register("bring_sheets_in", _bring_in, title=_("Bringing a workbook in"), goes_on=_page)
    registry.register("export_shop", _export, title=_("Exporting the shop"))


def _page(given: dict[str, Any]) -> str:
    return reverse("import_one", args=[given["moving"]])


def _try(given: dict[str, Any], progress: Progress) -> Outcome:
    from tooling.services.moving_in.trying import try_sheets

    return try_sheets(given, progress)


def _bring_in(given: dict[str, Any], progress: Progress) -> Outcome:
    from tooling.services.moving_in.trying import bring_sheets_in

    return bring_sheets_in(given, progress)


def _export(given: dict[str, Any], progress: Progress) -> Outcome:
    from tooling.services.moving_in.leaving import export

    return export(given, progress)
