"""What the pages of moving in show."""

from dataclasses import dataclass, field
from difflib import get_close_matches
from typing import Any

from shared.errors import Refused
from tooling.models import MovingIn
from tooling.selectors.jobs import JobPage
from tooling.selectors.jobs import page as job_page
from tooling.services.moving_in.called import column_called
from tooling.services.moving_in.files import marked_up
from tooling.services.moving_in.matching import Match, matches
from tooling.services.moving_in.ours import NOT_KNOWN
from tooling.services.moving_in.tables import theirs
from tooling.services.moving_in.targets import TOOLS
from tooling.services.sheets.cells import folded

LISTED = 20


@dataclass(frozen=True, slots=True)
class ImportPage:
    """An upload: how it is matched, what the last try found, and the job that is at it."""

    moving: MovingIn
    matches: list[Match] = field(default_factory=list)
    unreadable: str = ""
    job: JobPage | None = None
    has_marked_up: bool = False

    @property
    def is_settled(self) -> bool:
        """Whether it can be tried."""
        return any(one.sheet for one in self.matches) and all(one.is_settled for one in self.matches)

    @property
    def matched(self) -> list[tuple[str, str, str, str]]:
        """The columns that were matched by hand: sheet, theirs, ours."""
        return [
            (one.look.title, column.title, column_called(one.columns[column.key]), ", ".join(column.samples))
            for one in self.matches
            for column in one.look.columns
            if one.columns.get(column.key) and one.columns[column.key] != column.key
        ]

    @property
    def would(self) -> list[tuple[str, int, int, int, int]]:
        """By sheet of ours: rows, right ones, new ones, wrong ones."""
        said = self.moving.report or {}
        return [
            (sheet, rows, rows - said["wrong"].get(sheet, 0), said["new"].get(sheet, 0), said["wrong"].get(sheet, 0))
            for sheet, rows in said.get("read", {}).items()
        ]

    @property
    def sums(self) -> tuple[int, int, int, int]:
        """The same of all sheets."""
        rows = self.would
        return tuple(sum(row[place] for row in rows) for place in (1, 2, 3, 4))  # type: ignore[return-value]


def page(moving: MovingIn) -> ImportPage:
    """One upload as it stands now."""
    job = job_page(moving.job) if moving.job is not None else None
    found: list[Match] = []
    unreadable = ""
    if moving.brought_in_at is None and not (job and job.is_open):
        try:
            found = look_at(moving)
        except Refused as refused:
            unreadable = refused.message
    return ImportPage(moving, found, unreadable, job, marked_up(moving).is_file())


def look_at(moving: MovingIn) -> list[Match]:
    """How its sheets are matched. Raises Refused for a file that cannot be read."""
    with theirs(moving, only_top=True) as found:
        return matches(moving, found)


def waiting() -> list[MovingIn]:
    """The last uploads."""
    return list(MovingIn.objects.select_related("added_by")[:LISTED])


def unsaid(moving: MovingIn) -> list[dict[str, Any]]:
    """The words, days, numbers and names of places that somebody has to say the meaning of."""
    said = moving.report or {}
    places = [{"sheet": TOOLS, "column": "place", "word": one["name"], **one} for one in said.get("places", [])]
    return [*said.get("words", []), *places]


def guessed_words(unknown: list[dict[str, Any]], choices: Any) -> dict[tuple[str, str, str], str]:
    """What words of theirs most likely mean."""
    found = {}
    for one in unknown:
        key = one["sheet"], one["column"], one["word"]
        if one["column"] == "place":
            found[key] = one.get("likely", "")
        elif one.get("is_value"):
            found[key] = NOT_KNOWN
        else:
            words = choices(one)
            near = get_close_matches(folded(one["word"]), [word.lower() for word in words], 1, 0.7)
            found[key] = next((word for word in words if near and word.lower() == near[0]), "")
    return found
