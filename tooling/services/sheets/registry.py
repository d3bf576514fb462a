"""The sheets that there are, in the order in which they are read and written."""

from functools import cache

from tooling.services.sheets.table import Sheet

# Left alone in any workbook: a shop's own words about it
PASSED_OVER = frozenset({"words", "notes"})
_further: list[tuple[Sheet, str]] = []


def register(sheet: Sheet, after: str = "tools") -> None:
    """Adds a sheet behind another one. An app calls this in its AppConfig.ready()."""
    _further.append((sheet, after))
    sheets.cache_clear()


@cache
def sheets() -> tuple[Sheet, ...]:
    """All sheets: what a sheet's cells name is in a sheet before it, or in itself."""
    from tooling.services.sheets import (  # they need the models
        checklists,
        containment_marks,
        count_marks,
        history,
        making_steps,
        milling_passes,
        parts,
        place_counts,
        places,
        plugs,
        reading_limits,
        release_systems,
        rights,
        shop,
        tags,
        temperatures,
        tins,
        tool_sets,
        tools,
        wanted,
    )

    found = [
        shop.SHEET, rights.SHEET, release_systems.SHEET, tins.SHEET, places.SHEET, place_counts.SHEET, parts.SHEET,
        tools.SHEET, plugs.SHEET, milling_passes.SHEET, reading_limits.SHEET, history.SHEET, count_marks.SHEET,
        containment_marks.SHEET, tool_sets.SHEET, making_steps.SHEET, checklists.SHEET, tags.SHEET, temperatures.SHEET,
        wanted.SHEET,
    ]  # fmt: skip
    for sheet, after in _further:
        names = [one.name for one in found]
        found.insert(names.index(after) + 1, sheet)
    return tuple(found)
