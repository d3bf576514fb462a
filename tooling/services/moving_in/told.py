"""What a try found, as its page tells it: kept with the upload."""

from dataclasses import asdict
from typing import Any

from tooling.services.moving_in.called import column_called
from tooling.services.moving_in.grouped import grouped
from tooling.services.moving_in.joined import Joined
from tooling.services.moving_in.matching import Match
from tooling.services.moving_in.tables import Theirs, Wrong
from tooling.services.moving_in.targets import targets
from tooling.services.sheets.cells import is_blank, shown
from tooling.services.sheets.escapes import storable
from tooling.services.sheets.report import Problem, Report

LISTED = 300
_NOTES = 50
_LONGEST_CELL = 80


def told(
    report: Report, joined: Joined, matched: list[Match], theirs: list[Theirs], wrong: Wrong, out: Wrong
) -> dict[str, Any]:
    """Counts by our sheets; the wrong rows by theirs, in the order of their file; what one word settles for all.

    `out`: the rows that were left out, because they were wrong.
    """
    groups, aside = grouped(joined, matched, theirs, wrong), grouped(joined, matched, theirs, out)
    found: dict[str, Any] = _storable(
        {
            **_told(report, joined, matched, theirs, wrong),
            "groups": groups.told(),
            "hand_rows": groups.hand_rows,
            "out": {str(index): {str(row): cells for row, cells in rows.items()} for index, rows in out.items()},
            "out_rows": sum(map(len, out.values())),
            "out_groups": aside.told(),
        }
    )
    return found


def out_of(said: dict[str, Any]) -> Wrong:
    """The rows that a try left out, as it kept them."""
    return {
        int(index): {
            int(row): [(place, column, message) for place, column, message in cells] for row, cells in rows.items()
        }
        for index, rows in said.items()
    }


def _storable(said: Any) -> Any:
    if isinstance(said, str):
        return storable(said)
    if isinstance(said, dict):
        return {_storable(key): _storable(value) for key, value in said.items()}
    return [_storable(one) for one in said] if isinstance(said, list | tuple) else said


def _told(report: Report, joined: Joined, matched: list[Match], theirs: list[Theirs], wrong: Wrong) -> dict[str, Any]:
    doubts = joined.doubts
    by_sheet: dict[str, int] = {}
    for problem in report.problems():
        by_sheet[problem.sheet] = by_sheet.get(problem.sheet, 0) + 1
    return {
        "read": report.read,
        "new": report.new,
        "wrong": by_sheet,
        "rows": joined.rows,
        "wrong_rows": sum(len(rows) for rows in wrong.values()),
        "errors": _errors(matched, theirs, wrong),
        "notes": [_at_theirs(joined, matched, one) for one in report.notes[:_NOTES]],
        "words": [
            {"sheet": sheet, "column": column, "word": word, "count": count, "called": column_called(column),
             "is_value": targets(sheet)[column].is_value}
            for (sheet, column), counts in doubts.words.items()
            for word, count in counts.items()
        ],
        "read_as": [
            {"called": column_called(column), "text": text, "means": means, "count": count}
            for (_sheet, column), texts in doubts.read_as.items()
            for text, (means, count) in texts.items()
        ],
        "codes": [{"old": old, "new": new} for old, new in doubts.codes.items()],
        "code_count": doubts.code_count,
        "places": [asdict(one) for one in joined.places.unsettled.values()],
        "new_places": [{"name": met.name, "code": met.code, "parent": met.parent} for met in joined.places.new],
        "days": doubts.days,
        "lines": [{"row": row, "text": _short(text)} for (_index, row), text in list(joined.lines.items())[:LISTED]],
        "line_count": len(joined.lines),
        "settles": bool(doubts.words or doubts.days or _unsettled(joined)),
        "left_out": [one.look.title for one in matched if not one.sheet and (one.look.columns or one.look.is_wide)],
    }  # fmt: skip


def _unsettled(joined: Joined) -> bool:
    """Whether there are codes, places or lines that nobody has said yes to."""
    lines = joined.lines and not joined.leaves_lines
    return bool((joined.doubts.codes and not joined.takes_proposed) or joined.places.unsettled or lines)


def _at_theirs(joined: Joined, matched: list[Match], one: Problem) -> dict[str, Any]:
    spot = joined.spot(one.sheet, one.row, one.column)
    seen = matched[spot.theirs].look
    title = title_of(seen, spot.place, one.column)
    return {"sheet": seen.title, "row": spot.row, "column": title, "message": one.message}


def _errors(matched: list[Match], theirs: list[Theirs], wrong: Wrong) -> list[dict[str, Any]]:
    """The first wrong rows, each with the cell to change first and all that is wrong with it."""
    listed: list[dict[str, Any]] = []
    for index in sorted(wrong):
        seen, rows = matched[index].look, wrong[index]
        wanted = sorted(rows)[: LISTED - len(listed)]
        cells = _cells(theirs[index], set(wanted))
        for row in wanted:
            place, column, __ = rows[row][0]
            cell = cells.get(row, ())[place] if place is not None and place < len(cells.get(row, ())) else None
            listed.append(
                {
                    "sheet": seen.title,
                    "row": row,
                    "column": title_of(seen, place, column),
                    "cell": "" if is_blank(cell) else _short(cell),
                    "messages": sentences(seen, rows[row]),
                }
            )
    return listed


def sentences(seen: Any, wrong: list[tuple[int | None, str, str]]) -> list[str]:
    """What is wrong with a row, each with the name of its column where that is another one than the first."""
    first = title_of(seen, wrong[0][0], wrong[0][1])
    titled = [(title_of(seen, place, column), message) for place, column, message in wrong]
    return [message if title == first else f"{title}: {message}" for title, message in titled]


def title_of(seen: Any, place: int | None, column: str) -> str:
    """What a column is called in theirs; by our name where nothing of theirs is it."""
    return next((one.title for one in seen.columns if one.place == place), column)


def _cells(one: Theirs, rows: set[int]) -> dict[int, Any]:
    found: dict[int, Any] = {}
    for number, cells in one.found.lines() if rows else ():
        if number in rows:
            found[number] = cells
            if len(found) == len(rows):
                break
    return found


def _short(cell: Any) -> str:
    text = getattr(cell, "message", None) or shown(cell)
    return text if len(text) <= _LONGEST_CELL else f"{text[: _LONGEST_CELL - 1]}…"
