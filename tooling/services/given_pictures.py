"""A file that may be a picture, by its name in a folder or ZIP."""

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import PurePosixPath
from typing import BinaryIO


@dataclass(frozen=True, slots=True)
class Given:
    """Its name, and how to open it; that raises Refused where it cannot be read."""

    name: PurePosixPath
    open: Callable[[], BinaryIO]
