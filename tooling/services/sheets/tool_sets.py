"""The sheet `tool_sets`: what each revision of a part needs, one row a tool or piece of hardware."""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from django.utils.translation import gettext as _

from tooling.models import PartRevision, SetLine, SetRole, Summary, Tool
from tooling.services.set_rules import retired, wrong_with, wrong_with_halves
from tooling.services.sheets import cells, parts, tools
from tooling.services.sheets.set_halves import Halves
from tooling.services.sheets.table import Column, Load, Row, Sheet, already_there, full, no_such, note

_NAME = "tool_sets"
Key = tuple[str, str, str]  # part, revision, and the tool or the words


def _key(said: Mapping[str, Any]) -> Key:
    return said["part"].upper(), said["revision"], said["tool"] or said["item"].casefold()


def _take(rows: Iterable[Row], load: Load) -> None:
    read = list(rows)
    there = {_key(row): row for row in _give()} if read else {}
    gone = set(Summary.objects.filter(retired=True).values_list("tool", flat=True)) if read else set()
    seen: dict[Key, int] = {}
    taken: list[tuple[Row, dict[str, Any]]] = []
    for row in read:
        _check_part(row, load)
        tool = _check_tool(row, load)
        says = full(SHEET, row)
        if not row.wrong.keys() & {"part", "revision", "role", "tool", "item"}:
            key = _key(says)
            if seen.setdefault(key, row.number) != row.number:
                message = _("This stands in row %(row)s already.") % {"row": load.row_said(_NAME, seen[key])}
                row.wrong["tool" if says["tool"] else "item"] = message
            elif key in there:
                says["part"] = there[key]["part"]
                if differs := already_there(SHEET, key[2], there[key], says, load):
                    row.wrong["tool" if says["tool"] else "item"] = differs
            elif tool is not None and tool.pk in gone:
                row.wrong["tool"] = retired(tool.code)
            else:
                taken.append((row, says))
    _check_halves(read, taken, there, load)
    for row in read:
        note(_NAME, row, load.report)
    load.kept[_NAME] = [says for row, says in taken if not row.wrong]


def _check_part(row: Row, load: Load) -> None:
    """The part and its revision; without one it is the newest, unless the part has one without a name."""
    if "part" not in row.values:
        return
    known = parts.revisions(load)
    revisions = known.of(row.values["part"])
    if revisions is None:
        row.wrong.setdefault("part", no_such(_("part"), row.values["part"]))
    elif "revision" not in row.values and "revision" not in row.wrong:
        row.values["revision"] = "" if "" in revisions or not revisions else revisions[-1]
    elif "revision" not in row.wrong and revisions and row.values["revision"] not in revisions:
        text = _("%(part)s has no revision %(revision)s, only %(revisions)s.")
        said = {"part": row.values["part"], "revision": row.values["revision"]}
        row.wrong["revision"] = text % {
            **said,
            "revisions": ", ".join(one or _("one without a name") for one in revisions),
        }


def _check_tool(row: Row, load: Load) -> tools.Named | None:
    """The tool under its code of today; None where there is none, or it is wrong."""
    code = row.values.get("tool", "")
    tool = tools.taken(load).find(code) if code else None
    if code and tool is None:
        row.wrong.setdefault("tool", no_such(_("tool"), code))
    elif tool is not None:
        row.values["tool"] = tool.code
    if "role" in row.values and not row.wrong.keys() & {"tool", "item"}:
        said = row.values.get("item", "")
        wrong = wrong_with(row.values["role"], tool.code if tool else "", tool.kind if tool else "", said)
        if wrong is not None:
            row.wrong[wrong[0]] = wrong[1]
    return tool


def _check_halves(
    read: list[Row], taken: list[tuple[Row, dict[str, Any]]], there: Mapping[Key, Any], load: Load
) -> None:
    """A half without the others. Rows with faults of their own count as there, so that no fault is said twice."""
    if not any(says["role"] == SetRole.MOLD for _row, says in taken):
        return
    halves = Halves(load)
    if halves.is_export:  # what a shop wrote comes back as it was, also where it has changed its halves since
        return
    words = _words(read, taken, there, halves)
    new = {_key(says) for _row, says in taken}
    for row, says in taken:
        part, revision, code = _key(says)
        if says["role"] != SetRole.MOLD or code in halves.out or row.wrong.keys() & {"alternative"}:
            continue
        wrong = wrong_with_halves(code, words[part, revision], halves.others)
        # What two say of each other is said once, of the later one.
        if wrong is not None and not (wrong[2] > code and (part, revision, wrong[2]) in new):
            row.wrong[wrong[0]] = wrong[1]


def _words(
    read: list[Row], taken: list[tuple[Row, dict[str, Any]]], there: Mapping[Key, Any], halves: Halves
) -> dict[tuple[str, str], dict[str, str | None]]:
    """Of each set the molds in use, by code, with what each is an alternative of; None where its row is wrong."""
    found: dict[tuple[str, str], dict[str, str | None]] = defaultdict(dict)
    said = {_key(full(SHEET, row)): None for row in read if "part" in row.values}
    known = {_key(says): says for row, says in taken if "alternative" not in row.wrong}
    for key, says in {**said, **known, **there}.items():
        if key[2] not in halves.out and (says is None or says["role"] == SetRole.MOLD):
            found[key[:2]][key[2]] = says and says["alternative"]
    # Of which set these are is not known: they may be what another half misses.
    loose = {row.values["tool"] for row in read if row.wrong.keys() & {"part", "revision"} and "tool" in row.values}
    return {key: dict.fromkeys(loose) | of_set for key, of_set in found.items()}


def _write(load: Load) -> int:
    taken: list[dict[str, Any]] = load.kept[_NAME]
    tool = dict(Tool.objects.values_list("code", "pk")) if taken else {}
    rows = PartRevision.objects.values_list("part__number", "revision", "pk") if taken else ()
    revision = {(number.upper(), name): pk for number, name, pk in rows}
    lines = [
        SetLine(
            revision_id=revision[says["part"].upper(), says["revision"]],
            tool_id=tool[says["tool"]] if says["tool"] else None,
            **{name: says[name] for name in _PLAIN},
        )
        for says in taken
    ]
    SetLine.objects.bulk_create(lines, batch_size=200)
    return len(lines)


def _give() -> Iterator[dict[str, Any]]:
    lines = SetLine.objects.select_related("revision__part", "tool")
    # sorted here: two databases have two orders of letters
    for line in sorted(lines, key=lambda one: (one.revision.part.number, one.revision_id, one.pk)):
        yield {
            "part": line.revision.part.number,
            "revision": line.revision.revision,
            "tool": line.tool.code if line.tool else None,
            **{name: getattr(line, name) for name in _PLAIN},
        }


_PLAIN = ("role", "item", "order", "required", "alternative", "confirmed")
_COLUMNS = (
    Column("part", cells.name(80), needed=True),
    Column("revision", cells.name(40), empty=""),
    Column("role", cells.word(*SetRole.values, mold_insert=SetRole.INSERT.value), needed=True),
    Column("tool", cells.REFERENCE),
    Column("item", cells.name(200), empty=""),
    Column("order", cells.whole(1)),
    Column("required", cells.YES_NO, empty=True),
    Column("alternative", cells.name(40), empty=""),
    Column("confirmed", cells.YES_NO, empty=True),
)
SHEET = Sheet(_NAME, _COLUMNS, _take, _write, _give)
