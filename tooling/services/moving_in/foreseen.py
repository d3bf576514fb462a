"""What a try would bring in, tool by tool, as it would stand: read while it is written, before that is taken back."""

from typing import Any

from django.utils.translation import gettext as _

from shared import clock
from tooling.models import Kind, Shop, Tool
from tooling.selectors.tools import rows_of
from tooling.services.sheets.table import Load
from tooling.words.lines import Around, said_of
from tooling.words.terms import KINDS, term

MOST = 1_000  # of new rows, where what would come of them is worked out for a try


class Foreseen:
    """The tools of an upload, each with its place, recipe and state."""

    def __init__(self) -> None:
        self.tools: list[dict[str, Any]] = []

    def __call__(self, load: Load) -> None:
        """Looks at what has been written."""
        self.tools = []
        around = Around(clock.now(), Shop.current().zone)
        tools = Tool.objects.filter(pk__in=load.touched).select_related("place", "release_system").order_by("code")
        rows = {row.tool.pk: row for row in rows_of([tool.pk for tool in tools], around.now)}
        for tool in tools:
            row = rows.get(tool.pk)
            said = said_of(row, around) if row is not None else None
            self.tools.append(
                {
                    "code": tool.code,
                    "name": tool.name,
                    "kind": tool.kind,
                    "called": term(KINDS, tool.kind),
                    "place": tool.place.name if tool.place else _("no place"),
                    "recipe": tool.release_system.code if tool.release_system else "",
                    "wants_recipe": tool.kind in Kind.WITH_SURFACE and tool.release_system is None,
                    "state": said.whole if said else "",
                }
            )

    def without_recipe(self) -> dict[str, int]:
        """How many tools would have none, by kind."""
        wanting = [one["kind"] for one in self.tools if one["wants_recipe"]]
        return {kind: wanting.count(kind) for kind in dict.fromkeys(wanting)}
