"""Where sheets are written to: a workbook or a folder of tables."""

from collections.abc import Callable, Sequence
from contextlib import AbstractContextManager
from pathlib import Path
from typing import Any, Protocol

from django.utils.translation import gettext as _

from shared.errors import Refused

Put = Callable[[Sequence[Any]], Any]


class Target(Protocol):
    """Takes sheet after sheet."""

    def sheet(self, name: str, header: Sequence[str]) -> AbstractContextManager[Put]:
        """A sheet that takes row after row."""

    def close(self) -> None:
        """Puts in place what is not there yet."""


def target(path: Path) -> Target:
    """What a path means: a workbook by its ending, else a folder. Raises Refused where nothing can be written."""
    if not path.parent.is_dir():
        raise Refused(_("There is no folder %(path)s.") % {"path": path.parent})
    if path.suffix.lower() == ".xlsx":
        if path.is_dir():
            raise Refused(_("%(path)s is a folder. Name a file.") % {"path": path})
        from tooling.services.sheets.workbook import Workbook  # openpyxl takes a fifth of a second to import

        return Workbook(path)
    if (path.exists() and not path.is_dir()) or path.suffix.lower() in _OTHER_FILES:
        raise Refused(_("Name a file that ends in .xlsx, or a folder for .csv: %(path)s is neither.") % {"path": path})
    from tooling.services.sheets.folder import Folder

    return Folder(path)


_OTHER_FILES = (".csv", ".xls", ".xlsm", ".xlsb", ".ods", ".zip", ".json")
