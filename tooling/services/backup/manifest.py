"""What a backup says of itself: which program made it and when, its tables and pictures, and where chains stood."""

import json
from dataclasses import asdict, dataclass, field
from datetime import datetime
from typing import Any

from django.utils.translation import gettext as _

from shared.errors import Refused
from shared.version import VERSION

FORMAT = 1
MOST_BYTES = 16 << 20


@dataclass(frozen=True, slots=True)
class Table:
    """The rows of one table: a line each, in the order of their keys."""

    label: str
    columns: list[str]
    rows: int
    bytes: int
    sha256: str

    @property
    def file(self) -> str:
        """Its name in the file."""
        return f"rows/{self.label}.jsonl"


@dataclass(frozen=True, slots=True)
class Manifest:
    """All that is said of a backup beside its content."""

    made_at: datetime
    shop: str
    database: str
    migrations: dict[str, list[str]]
    tables: list[Table]
    pictures: int
    picture_bytes: int
    # Named by rows, and not there when the backup was made
    lost: list[str] = field(default_factory=list)
    seal: list[str] = field(default_factory=list)
    heads: str = ""
    program: str = VERSION
    format: int = FORMAT

    @property
    def rows(self) -> int:
        """Of all tables."""
        return sum(table.rows for table in self.tables)

    @property
    def bytes(self) -> int:
        """Of all that is in it, unpacked."""
        return self.picture_bytes + sum(table.bytes for table in self.tables)


def to_json(manifest: Manifest) -> bytes:
    """As it stands in the file."""
    return json.dumps({**asdict(manifest), "made_at": manifest.made_at.isoformat()}, indent=1).encode()


def from_json(text: bytes) -> Manifest:
    """What a file says of itself. Raises Refused for a newer format, ValueError for what is none."""
    told = json.loads(text)
    number = told.get("format") if isinstance(told, dict) else None
    if type(number) is not int or number < 1:
        raise ValueError("format")
    if number > FORMAT:
        message = _(
            "This backup was made by a newer version of the program (its format is %(number)s, this version reads "
            "%(known)s). Update the program, then restore it."
        )
        raise Refused(message % {"number": number, "known": FORMAT})
    try:
        return _built(told)
    except (KeyError, TypeError, AttributeError) as bad:
        raise ValueError("manifest") from bad


def _built(told: dict[str, Any]) -> Manifest:
    tables = [Table(**table) for table in told.pop("tables")]
    manifest = Manifest(**{**told, "tables": tables, "made_at": datetime.fromisoformat(told["made_at"])})
    names = [name for listed in manifest.migrations.values() for name in listed]
    columns = [name for table in tables for name in table.columns]
    texts = [*manifest.migrations, *names, *columns, *manifest.lost, *manifest.seal, manifest.shop, manifest.program]
    texts += [text for table in tables for text in (table.label, table.sha256)]
    counts = [manifest.pictures, manifest.picture_bytes]
    counts += [count for table in tables for count in (table.rows, table.bytes)]
    if not all(type(text) is str for text in texts) or not all(type(n) is int and n >= 0 for n in counts):
        raise ValueError("manifest")
    return manifest
