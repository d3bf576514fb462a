"""The sheet `tags`: what stands on the tag of each tool, since when, and which are lost or did not come out."""

from collections.abc import Iterable, Iterator
from typing import Any

from django.utils.translation import gettext as _

from tooling.models import TagPrint, Tool
from tooling.selectors.tag_facts import SAID
from tooling.services.sheets import cells, tools
from tooling.services.sheets.table import Column, Load, Row, Sheet, already_there, full, no_such, note
from tooling.services.sheets.who_when import not_ahead, people_named
from tooling.services.tags import wanted

_NAME = "tags"
_TIMES = ("printed_at", "spoilt_at", "lost_at")
_PEOPLE = ("printed_by", "lost_by", "lost_recorded_by")


def _take(rows: Iterable[Row], load: Load) -> None:
    read, known = list(rows), tools.taken(load)
    there = {row["tool"]: row for row in _give()} if read else {}
    seen: dict[str, int] = {}
    taken = []
    for row in read:
        _check_times(row, load)
        tool = known.find(row.values.get("tool", ""))
        if "tool" in row.values and tool is None:
            row.wrong.setdefault("tool", no_such(_("tool"), row.values["tool"]))
        says = full(SHEET, row)
        if tool is not None and not row.wrong:
            says["tool"] = tool.code
            if seen.setdefault(tool.code, row.number) != row.number:
                message = _("The tag of this tool stands in row %(row)s already.")
                row.wrong["tool"] = message % {"row": load.row_said(_NAME, seen[tool.code])}
            elif tool.code not in there:
                taken.append(says)
            elif differs := already_there(SHEET, tool.code, there[tool.code], says, load):
                row.wrong["tool"] = differs
        note(_NAME, row, load.report)
    load.kept[_NAME] = taken


def _check_times(row: Row, load: Load) -> None:
    not_ahead(row, load, *_TIMES)
    if "printed_at" not in row.values and "lost_at" not in row.values and "printed_at" not in row.wrong:
        row.wrong.setdefault("printed_at", _("Say when it was printed, or when it was lost."))


def _write(load: Load) -> int:
    taken: list[dict[str, Any]] = load.kept[_NAME]
    keys = dict(Tool.objects.values_list("code", "pk")) if taken else {}
    person = people_named(taken, *_PEOPLE)
    rows = [_row(said, keys[said["tool"]], person) for said in taken]
    # A tool that is in the shop already has a row that says nothing yet.
    TagPrint.objects.bulk_create(
        rows, batch_size=50, update_conflicts=True, unique_fields=["tool"],
        update_fields=["said", *_TIMES, *_PEOPLE],
    )  # fmt: skip
    wanted.keep(one.tool_id for one in rows)
    return len(rows)


def _row(said: dict[str, Any], tool: int, person: dict[str, int]) -> TagPrint:
    return TagPrint(
        tool_id=tool,
        said=_on_tag(said) if said["printed_at"] is not None else {},
        printed_by_id=person.get(said["printed_by"]),
        lost_by_id=person.get(said["lost_by"]),
        lost_recorded_by_id=person.get(said["lost_recorded_by"]),
        **{name: said[name] for name in _TIMES},
    )


def _on_tag(row: dict[str, Any]) -> dict[str, str]:
    """What the row says of the tag. These are on every tag: where one is blank, the sheet does not know it."""
    said = {name: row[_column(name)] for name in SAID}
    surely = {"code", "kind", "name", "family", *(["home_code"] if said["home"] else [])}
    return {name: words for name, words in said.items() if words or name not in surely}


def _give() -> Iterator[dict[str, Any]]:
    known = TagPrint.objects.exclude(printed_at=None, lost_at=None)
    for tag in known.select_related("tool", *_PEOPLE).order_by("tool__code").iterator(chunk_size=2000):
        yield {
            "tool": tag.tool.code,
            **{name: getattr(tag, name) for name in _TIMES},
            **{name: person.name if (person := getattr(tag, name)) else "" for name in _PEOPLE},
            **{_column(name): tag.said.get(name, "") for name in SAID},
        }


def _column(name: str) -> str:
    """What stood on the tag is words here: mass_kg is a number of the tool."""
    return f"said_{name}"


_COLUMNS = (
    Column("tool", cells.REFERENCE, needed=True),
    Column("printed_at", cells.INSTANT),
    Column("printed_by", cells.name(80), empty=""),
    *(Column(_column(name), empty="") for name in SAID),
    Column("spoilt_at", cells.INSTANT),
    Column("lost_at", cells.INSTANT),
    Column("lost_by", cells.name(80), empty=""),
    Column("lost_recorded_by", cells.name(80), empty=""),
)
SHEET = Sheet(_NAME, _COLUMNS, _take, _write, _give)
