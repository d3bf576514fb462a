"""Lines that were just taken out of a tool set, kept in the address of the page that offers to put them back."""

from collections.abc import Iterable

from django.core import signing
from django.core.signing import BadSignature

from tooling.models import PartRevision, SetLine, Tool

_SALT = "tooling.set-lines-taken-out"
_COLUMNS = ("pk", "role", "tool_id", "item", "order", "required", "alternative", "confirmed")


def packed(lines: Iterable[SetLine]) -> str:
    """The lines as a text that nobody else can make."""
    rows = [[line.revision_id, *(getattr(line, name) for name in _COLUMNS)] for line in lines]
    return signing.dumps(rows, salt=_SALT, compress=True)


def lines_of(text: str, revision: PartRevision) -> list[SetLine]:
    """The lines, unsaved; none where the text is not ours, is about another set, or one of them is back already."""
    if not text:
        return []
    try:
        rows = signing.loads(text, salt=_SALT)
        lines = [SetLine(revision=revision, **dict(zip(_COLUMNS, row[1:], strict=True))) for row in rows]
    except (BadSignature, ValueError):  # also of a version of the program that knew other columns
        return []
    tools = Tool.objects.in_bulk([line.tool_id for line in lines if line.tool_id is not None])
    if any(row[0] != revision.pk for row in rows) or any(line.tool_id not in {None, *tools} for line in lines):
        return []
    for line in lines:
        line.tool = tools.get(line.tool_id) if line.tool_id is not None else None
    back = revision.tool_set.filter(tool__in=tools).exists()
    items = {line.item for line in lines if line.item}
    return [] if back or (items and revision.tool_set.filter(item__in=items).exists()) else lines
