"""The sheet `wanted`: what is on the list of wanted parts, and what was, one row a part that was put there."""

from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from django.utils.translation import gettext as _

from tooling.models import Part, PartRevision, Wanted
from tooling.models.people import name_key
from tooling.models.wanted import LEAST_WANTED, MOST_WANTED
from tooling.selectors.wanted import done_before
from tooling.services.sheets import cells, parts
from tooling.services.sheets.table import Column, Load, Row, Sheet, full, no_such, note
from tooling.services.sheets.who_when import not_ahead, people_named
from tooling.services.wanted_done import put_away

_NAME = "wanted"
Key = tuple[Any, ...]


def _take(rows: Iterable[Row], load: Load) -> None:
    read = list(rows)
    rows_there = list(_give()) if read else []
    there = {_key(row) for row in rows_there}
    done = done_before(load.now, load.frame.zone) if rows_there else []
    on_list = {row["part"].upper() for row in rows_there if row["off_at"] is None}
    on_list -= {one.row.part.number.upper() for one in done}
    taken = []
    for row in read:
        _check_part(row, load)
        _check_times(row, load)
        says = full(SHEET, row)
        if not row.wrong and _key(says) not in there:
            _check_once(row, says, on_list)
            taken.append(says)
        note(_NAME, row, load.report)
    load.kept[_NAME] = taken, done


def _check_part(row: Row, load: Load) -> None:
    if "part" not in row.values:
        return
    revisions = parts.revisions(load).of(row.values["part"])
    if revisions is None:
        row.wrong.setdefault("part", no_such(_("part"), row.values["part"]))
    elif row.values.get("revision") and revisions and row.values["revision"] not in revisions:
        text = _("%(part)s has no revision %(revision)s.")
        row.wrong["revision"] = text % {"part": row.values["part"], "revision": row.values["revision"]}


def _check_times(row: Row, load: Load) -> None:
    at, off = row.values.get("at"), row.values.get("off_at")
    not_ahead(row, load, "at", "off_at")
    if at is not None and off is not None and off < at:
        row.wrong.setdefault("off_at", _("It cannot be off the list before it was on it."))
    if off is None and row.values.get("off_by"):
        row.wrong.setdefault("off_by", _("Say as well when it was taken off: off_at."))


def _check_once(row: Row, says: Mapping[str, Any], on_list: set[str]) -> None:
    if says["off_at"] is None:
        if says["part"].upper() in on_list:
            row.wrong.setdefault("part", _("This part is on the list already. Change how many there."))
        on_list.add(says["part"].upper())


def _key(says: Mapping[str, Any]) -> Key:
    """What makes two rows the same."""
    people = [name_key(says[name]) if says[name] else None for name in ("by", "off_by")]
    times = [at.replace(microsecond=0) if at is not None else None for at in (says["at"], says["off_at"])]
    return says["part"].upper(), says["revision"], says["count"], says["day"], *people, *times


def _write(load: Load) -> int:
    taken: list[dict[str, Any]]
    taken, done = load.kept.pop(_NAME, ([], []))
    part = {number.upper(): pk for number, pk in Part.objects.values_list("number", "pk")} if taken else {}
    rows = PartRevision.objects.values_list("part", "revision", "pk") if taken else ()
    revision = {(of, name): pk for of, name, pk in rows}
    person = people_named(taken, "by", "off_by")
    made = []
    for says in taken:
        of = part[says["part"].upper()]
        meant = revision[of, says["revision"]] if says["revision"] else None
        who = {f"{name}_id": person.get(says[name]) for name in ("by", "off_by")}
        plain = {name: says[name] for name in ("count", "day", "at", "off_at")}
        made.append(Wanted(part_id=of, revision_id=meant, **who, **plain))
    put_away(done, load.now, {row.part_id for row in made if row.off_at is None})
    Wanted.objects.bulk_create(made, batch_size=100)
    return len(made)


def _give() -> Iterator[dict[str, Any]]:
    for row in Wanted.objects.select_related("part", "revision", "by", "off_by").in_order():
        yield {
            "part": row.part.number,
            "revision": row.revision.revision if row.revision else "",
            "by": row.by.name if row.by else None,
            "off_by": row.off_by.name if row.off_by else None,
            **{name: getattr(row, name) for name in ("count", "day", "at", "off_at")},
        }


_COLUMNS = (
    Column("part", cells.name(80), needed=True),
    Column("revision", cells.name(40), empty=""),
    Column("count", cells.whole(LEAST_WANTED, MOST_WANTED), empty=1),
    Column("day", cells.DATE),
    Column("at", cells.INSTANT, needed=True),
    Column("by", cells.name(80)),
    Column("off_at", cells.INSTANT),
    Column("off_by", cells.name(80)),
)
SHEET = Sheet(_NAME, _COLUMNS, _take, _write, _give)
