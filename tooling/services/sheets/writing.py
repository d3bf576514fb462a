"""Where sheets are written to: a workbook or a folder of tables."""

from collections.abc import Callable, Sequence
from contextlib import AbstractContextManager
from pathlib import Path
from typing import Any

from django.utils.translation import gettext as _

from shared.errors import Refused

Put = Callable[[Sequence[Any]], Any]  # takes the cells of one row
Target = Callable[[str, Sequence[str]], AbstractContextManager[Put]]  # opens a sheet by its name and columns


def target(path: Path) -> AbstractContextManager[Target]:
    """What a path means: a workbook by its ending, else a folder. Raises Refused where nothing can be written."""
    if not path.parent.is_dir():
        raise Refused(_("There is no folder %(path)s.") % {"path": path.parent})
    if path.suffix.lower() == ".xlsx":
        if path.is_dir():
            raise Refused(_("%(path)s is a folder. Name a file.") % {"path": path})
        from tooling.services.sheets import workbook  # openpyxl takes a fifth of a second to import

        return workbook.target(path)
    if not path.is_dir() and (path.exists() or path.suffix):
        raise Refused(_("Name a file that ends in .xlsx, or a folder for .csv: %(path)s is neither.") % {"path": path})
    from tooling.services.sheets import folder

    return folder.target(path)
