"""The sheet `mask_features`: the cuts of trim masks, one a row, in cutting order."""

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from datetime import UTC
from typing import Any

from django.utils.translation import gettext as _

from tooling.models import Tool
from tooling.services.sheets import as_typed, cells
from tooling.services.sheets.sizes import size
from tooling.services.sheets.table import Column, Load, Row, Sheet, already_there, full, no_such, note
from trimfixtures.models import Cutter, DrillBushing, Feature, FeatureKind, Finish, Kept, Mask, Method
from trimfixtures.services.feature_rules import wrong_with
from trimfixtures.services.sheets import cutters, masks

_NAME = "mask_features"
_ANY = cells.Frame(UTC)
# Where one of these words is wrong, nobody knows what holds for the sizes beside it.
_WORDS = frozenset({"kind", "method", "kept", "finish"})
Key = tuple[Any, ...]


def _take(rows: Iterable[Row], load: Load) -> None:
    read = list(rows)
    there = list(_give()) if read else []
    left = Counter(_key(row) for row in there)
    new: list[tuple[Row, dict[str, Any]]] = []
    met: dict[tuple[str, int], int] = {}
    for row in read:
        masks.check_tool(row, "mask", load)
        _check(row, load)
        _check_number(row, met, load)
        says = full(SHEET, row)
        if not row.wrong and left[_key(says)]:
            left[_key(says)] -= 1
        elif not row.wrong:
            new.append((row, says))
    others = [row for row in there if left[_key(row)]]
    for row, says in new:
        other = next((one for one in others if _is_same_cut(one, says)), None)
        if other is not None:
            column = "order" if says["order"] is not None else "name"
            row.wrong[column] = already_there(SHEET, _called(other), other, says, load)
    for row in read:
        note(_NAME, row, load.report)
    load.kept[_NAME] = [says for row, says in new if not row.wrong]


def _key(row: Mapping[str, Any]) -> Key:
    """What a row says, as it stands in its cells. Two cuts may say the same."""
    return tuple(column.cell(row[column.name], _ANY) for column in _COLUMNS if not column.beside)


def _is_same_cut(one: Mapping[str, Any], other: Mapping[str, Any]) -> bool:
    """Whether two rows that differ are about one cut: of one number, or without numbers of one name and kind."""
    if one["mask"] != other["mask"] or one["order"] != other["order"]:
        return False
    return one["order"] is not None or bool(one["name"] == other["name"] != "" and one["kind"] == other["kind"])


def _called(row: Mapping[str, Any]) -> str:
    return " ".join(str(said) for said in (row["mask"], row["order"], row["name"]) if said)


def _check_number(row: Row, met: dict[tuple[str, int], int], load: Load) -> None:
    """Of two rows of one trim mask with one number the later is wrong: which is cut first, nobody said."""
    mask, number = row.values.get("mask"), row.values.get("order")
    if mask is None or number is None or row.wrong.keys() & {"mask", "order"}:
        return
    first = met.setdefault((mask, number), row.number)
    if first != row.number:
        text = _("Number %(number)s of %(tool)s stands in row %(row)s already. Each cut has a number of its own.")
        said = {"number": number, "tool": mask, "row": load.row_said(_NAME, first)}
        row.wrong.setdefault("order", text % said)


def _check(row: Row, load: Load) -> None:
    """What it names is there, and what it says can be. Sizes beside what is wrong elsewhere are not judged."""
    known = dict(row.values)
    for name in ("cutter", "bushing"):
        code = row.values.get(name, "")
        found = cutters.library(load).find(code) if code else None
        if code and found is None:
            row.wrong.setdefault(name, no_such(_("cutter or guide bushing"), code))
        known[name] = found
        if name in row.wrong or (found is not None and not found.is_sure):
            known[name] = known[f"{name}_mm"] = None
    if row.wrong.keys() & _WORDS:
        return
    mask = masks.said_of(row.values.get("mask", ""), load)
    for column, sentence in wrong_with(known, mask=mask).items():
        row.wrong.setdefault(column, sentence)


def _write(load: Load) -> int:
    rows: list[dict[str, Any]] = load.kept[_NAME]
    mask = _masks({row["mask"] for row in rows}) if rows else {}
    cutter = dict(Cutter.objects.values_list("code", "pk")) if rows else {}
    features = [
        Feature(
            mask_id=mask[row["mask"]],
            cutter_id=cutter[row["cutter"]] if row["cutter"] else None,
            bushing_id=cutter[row["bushing"]] if row["bushing"] else None,
            **{name: row[name] for name in _PLAIN},
            as_typed=as_typed.still(row),
        )
        for row in rows
    ]
    Feature.objects.bulk_create(features, batch_size=30)
    return len(features)


def _masks(codes: set[str]) -> dict[str, int]:
    """The detail rows of trim masks, by code; made where only their cuts are described."""
    known = dict(Mask.objects.values_list("tool__code", "pk"))
    tool = dict(Tool.objects.values_list("code", "pk"))
    made = Mask.objects.bulk_create([Mask(tool_id=tool[code]) for code in sorted(codes - known.keys())], batch_size=50)
    code_of = {pk: code for code, pk in tool.items()}
    return known | {code_of[one.tool_id]: one.pk for one in made}


def _give() -> Iterator[dict[str, Any]]:
    features = Feature.objects.select_related("mask__tool", "cutter", "bushing")
    # sorted here: two databases have two orders of letters
    for one in sorted(features, key=lambda one: (one.mask.tool.code, one.pk)):
        yield {
            "mask": one.mask.tool.code,
            "cutter": one.cutter.code if one.cutter else None,
            "bushing": one.bushing.code if one.bushing else None,
            **{name: getattr(one, name) for name in (*_PLAIN, as_typed.NAME)},
        }


_SAID = (
    Column("mask", cells.REFERENCE, needed=True),
    Column("order", cells.whole(1)),
    Column("name", cells.name(80), empty=""),
    Column("kind", cells.word(*FeatureKind.values, cutout=FeatureKind.CUT_OUT.value), needed=True),
    Column("method", cells.word(*Method.values), needed=True),
    Column("cutter", cells.REFERENCE),
    Column("bushing", cells.REFERENCE),
    size("cutter_mm"),
    size("bushing_mm"),
    Column("kept", cells.word(*Kept.values), empty=Kept.MASK_SIDE.value),
    Column("finish", cells.word(*Finish.values), empty=""),
    size("length_mm"),
    size("width_mm"),
    size("corner_mm"),
    size("x_mm"),
    size("y_mm"),
    size("opening_mm"),
    size("tolerance_mm"),
    Column("drill_bushing", cells.word(*DrillBushing.values), empty=""),
    size("pilot_mm"),
    Column("backing", cells.name(200), empty=""),
    Column("note", empty=""),
)
_COLUMNS = (*_SAID, as_typed.column(column.name for column in _SAID if column.one_unit))
_PLAIN = tuple(column.name for column in _COLUMNS if column.name not in ("mask", "cutter", "bushing", as_typed.NAME))
SHEET = Sheet(_NAME, _COLUMNS, _take, _write, _give)
