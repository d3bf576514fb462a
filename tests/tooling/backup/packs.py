"""Backups that were changed by somebody who knows how they are made: the digest of the whole is right again."""

import hashlib
import io
import json
import zipfile
from collections.abc import Callable
from pathlib import Path

from tooling.services.backup.packing import MARK

Members = dict[str, bytes]


def members(path: Path) -> Members:
    """What is in a backup, by name and in order."""
    with zipfile.ZipFile(path) as packed:
        return {name: packed.read(name) for name in packed.namelist()}


def changed(path: Path, change: Callable[[Members], object], *again: str) -> Path:
    """A backup whose content was changed; the names in `again` are in it twice."""
    content = members(path)
    change(content)
    return sealed(path, [*content.items(), *((name, content[name]) for name in again)])


def sealed(path: Path, content: list[tuple[str, bytes]]) -> Path:
    """A file that begins and ends as a backup does."""
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as packed:
        for name, data in content:
            packed.writestr(zipfile.ZipInfo(name), data, zipfile.ZIP_DEFLATED)
        packed.comment = MARK + b"0" * 64
    data = out.getvalue()[:-64]
    target = path.with_name(f"changed-{path.name}")
    target.write_bytes(data + hashlib.sha256(data).hexdigest().encode())
    return target


def told(content: Members, **says: object) -> None:
    """Let the manifest say something else."""
    content["manifest.json"] = json.dumps({**json.loads(content["manifest.json"]), **says}).encode()


def rows_told(content: Members, label: str) -> None:
    """Let the manifest say of a table what is in it now."""
    data = content[f"rows/{label}.jsonl"]
    tables = json.loads(content["manifest.json"])["tables"]
    table = next(table for table in tables if table["label"] == label)
    table |= {"rows": data.count(b"\n"), "bytes": len(data), "sha256": hashlib.sha256(data).hexdigest()}
    told(content, tables=tables)
