"""A workbook or a folder of tables, opened as sheets of plain cells."""

from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from django.utils.translation import gettext as _

from shared.errors import Refused
from tooling.services.sheets.cells import Cell

Lines = Iterator[tuple[int, Sequence[Cell]]]


@dataclass(frozen=True)
class Found:
    """A sheet as it stands in the file: its title, its lines by number, and whether 12,5 is a number there."""

    title: str
    lines: Callable[[], Lines]
    decimal_comma: bool = False

    @property
    def name(self) -> str:
        """The title as sheets are compared: without regard to case and outer spaces."""
        return self.title.strip().lower()


@contextmanager
def opened(path: Path) -> Iterator[list[Found]]:
    """The sheets of an .xlsx workbook or of a folder of .csv. Raises Refused for what is neither."""
    if path.is_dir():
        from tooling.services.sheets import folder

        yield folder.tables(path)
    elif path.suffix.lower() == ".xlsx" and path.is_file():
        from tooling.services.sheets import workbook  # openpyxl takes a fifth of a second to import

        with workbook.opened(path) as found:
            yield found
    elif not path.exists():
        raise Refused(_("There is no %(path)s.") % {"path": path})
    else:
        raise Refused(_("%(path)s is neither an .xlsx workbook nor a folder of .csv. Save it as one.") % {"path": path})
