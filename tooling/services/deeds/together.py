"""Several tools in one go: the same coat on each, or on none."""

from collections.abc import Callable, Iterable, Mapping, Sequence
from typing import Any
from uuid import UUID, uuid5

from django.utils.translation import gettext as _

from shared.errors import Refused, TokenReused
from tooling.models import Entry, Person, Tool
from tooling.services.deeds.coats import lay_film, log_coat, log_sealer
from tooling.services.deeds.matched import all_or_none
from tooling.services.deeds.undo import rub_out

_LOG: dict[str, Callable[..., Entry]] = {"sealer": log_sealer, "coat": log_coat, "film": lay_film}


class NotAll(Refused):
    """Nothing was written, since one of them was refused: why, by the code of each."""

    def __init__(self, by_tool: Mapping[str, str]) -> None:
        """Keeps what was said of each."""
        super().__init__(_("Nothing was written on any of them: %(codes)s.") % {"codes": ", ".join(by_tool)})
        self.by_tool = dict(by_tool)


def coat_together(tools: Sequence[Tool], what: str, *, token: UUID, **said: Any) -> list[Entry]:
    """A coat, a sealer or a film goes on each of the tools, all of them or none.

    Order: the day's seal; the locks of all; then tool by tool what the deed does by itself, each with a token of its
    own that comes of the form's, so that the same form again gets its first answers. Raises NotAll with every refusal.
    """
    return _all(tools, lambda tool: _LOG[what](tool, token=token_of(token, tool.pk), **said))


def token_of(token: UUID, tool: int) -> UUID:
    """The token of one tool's coat, from the form's own."""
    return uuid5(token, str(tool))


def rub_out_together(entries: Iterable[Entry], *, recorded_by: Person, token: UUID) -> list[Entry]:
    """One's own entries of the last five minutes are voided, all of them or none."""
    by_tool = {entry.tool: entry for entry in entries}
    return _all(
        list(by_tool),
        lambda tool: rub_out(by_tool[tool], recorded_by=recorded_by, token=uuid5(token, str(by_tool[tool].pk))),
    )


def _all(tools: Sequence[Tool], write: Callable[[Tool], Entry]) -> list[Entry]:
    def on_each() -> list[Entry]:
        refused: dict[str, str] = {}
        written = []
        for tool in tools:
            try:
                written.append(write(tool))
            except TokenReused:
                raise
            except Refused as refusal:
                refused[tool.code] = refusal.message
        if refused:
            raise NotAll(refused)
        return written

    return all_or_none(tools, on_each)
