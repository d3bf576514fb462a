"""Which of the shop's sheets and columns are which of ours: remembered by their names, else guessed by them."""

from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import Any

from django.db import transaction

from tooling.models import ColumnMatch, Kind, MovingIn, WordMatch
from tooling.services.moving_in.looking import Look, is_ours_to_ignore, look
from tooling.services.moving_in.tables import Theirs, key_of
from tooling.services.moving_in.targets import TOOLS, called_as_ours, exact, likely, likely_sheet, sheet_called, targets
from tooling.services.sheets.registry import PASSED_OVER


@dataclass(frozen=True, slots=True)
class Match:
    """What a sheet of theirs is: ours by name ("" where it is left out), and by key what each of its columns is.

    `is_sure`: nothing of it was guessed. `kind`: what all tools of it are where no column says so.
    """

    look: Look
    sheet: str
    kind: str = ""
    columns: dict[str, str] = field(default_factory=dict)
    is_sure: bool = True

    @property
    def lacking(self) -> list[str]:
        """Columns of ours that are needed and nothing says. The code of a tool may stand for its name."""
        ours = sheet_called(self.sheet)
        there = {name.partition(" in ")[0] for name in self.columns.values()}
        if self.sheet == TOOLS:
            there |= {"name"} | ({"kind"} if self.kind else set())
        return [one.name for one in ours.columns if one.needed and one.name not in there] if ours else []

    def title_of(self, name: str) -> str:
        """What the shop calls the column that is this one of ours."""
        return next((one.title for one in self.look.columns if self.columns.get(one.key) == name), name)

    @property
    def is_settled(self) -> bool:
        """Whether it can be tried as it is."""
        return self.is_sure and not self.lacking


def matches(moving: MovingIn, theirs: Iterable[Theirs]) -> list[Match]:
    """How each sheet of an upload is matched as far as anybody knows."""
    rows: dict[str, int] = moving.given.get("header_rows", {})
    return [match_of(look(one, rows.get(one.key))) for one in theirs]


def match_of(seen: Look, sheet: str | None = None) -> Match:
    """How one sheet is matched; with `sheet`, as that one of ours."""
    known = {one.their_column: one for one in ColumnMatch.objects.filter(their_sheet=seen.key)}
    whole, keys = known.get(""), [one.key for one in seen.columns]
    ours = called_as_ours(seen.key, keys)
    if sheet is None:
        if seen.key in PASSED_OVER or not seen.columns:
            return Match(seen, "")
        if whole is not None and (not whole.sheet or sheet_called(whole.sheet)):
            sheet = whole.sheet
        else:
            sheet = seen.key if ours else likely_sheet(seen.title, keys)
    is_sure = whole is not None or ours is not None
    kind = whole.kind if whole is not None and whole.sheet == sheet else ""
    columns, is_all_known = _columns(seen, sheet, known)
    return Match(seen, sheet, kind or _likely_kind(seen, sheet, columns), columns, is_sure and is_all_known)


def _columns(seen: Look, sheet: str, known: dict[str, ColumnMatch]) -> tuple[dict[str, str], bool]:
    choices = targets(sheet)
    found: dict[str, str] = {}
    unknown = []
    for one in seen.columns:
        before = known.get(one.key)
        if is_ours_to_ignore(one.key):
            found[one.key] = ""
        elif before is not None and before.sheet == sheet and (not before.column or before.column in choices):
            found[one.key] = before.column
        elif exact(sheet, one.key):
            found[one.key] = one.key
        else:
            unknown.append(one)
    # none is guessed that somebody said of another column
    said = {name.partition(" in ")[0] for name in found.values()}
    guessed = likely(sheet, [(one.key, one.title) for one in unknown]) if sheet else {}
    for one in unknown:
        name = guessed.get(one.key, "")
        found[one.key] = "" if name.partition(" in ")[0] in said else name
    return {one.key: found[one.key] for one in seen.columns}, not unknown or not sheet


def _likely_kind(seen: Look, sheet: str, columns: dict[str, str]) -> str:
    if sheet != TOOLS or "kind" in columns.values():
        return ""
    words = {"plug": "plug", "insert": "insert", "trim": "trim_mask", "mold": "mold"}
    return next((kind for word, kind in words.items() if word in seen.key), "")


@transaction.atomic
def remember(matched: Iterable[Match]) -> None:
    """Keeps what was said, for this upload and for the next one."""
    for one in matched:
        rows = [("", one.sheet, "", one.kind), *((key, one.sheet, name, "") for key, name in one.columns.items())]
        for key, sheet, column, kind in rows:
            if not is_ours_to_ignore(key):
                said = {"sheet": sheet, "column": column, "kind": kind}
                ColumnMatch.objects.update_or_create(their_sheet=one.look.key, their_column=key, defaults=said)


Words = dict[tuple[str, str, str], str]


def words() -> Words:
    """The shop's words that are known to be ones of ours: by sheet, column and key."""
    rows = WordMatch.objects.values_list("sheet", "column", "theirs", "ours")
    return {(sheet, column, theirs): ours for sheet, column, theirs, ours in rows}


RECIPE_OF = "recipe_"  # with a kind behind it: the recipe of those tools in whose line none stands
_TICKS = ("days", "proposed_codes", "leave_lines", *(f"{RECIPE_OF}{kind}" for kind in sorted(Kind.WITH_SURFACE)))


def known_ticks() -> dict[str, str]:
    """What was said once of all rows of an upload before: how days are written, and what is put right."""
    return {name: ours for (sheet, name, _theirs), ours in words().items() if not sheet and name in _TICKS}


def remember_ticks(given: dict[str, Any]) -> None:
    """Keeps it for the next upload: the same list again has to read the same."""
    remember_words({("", name, ""): "on" if (said := given.get(name, "")) is True else said or "" for name in _TICKS})


@transaction.atomic
def remember_words(said: dict[tuple[str, str, str], str]) -> None:
    """Keeps which of our words each of theirs is: by sheet, column and word. "" forgets one."""
    for (sheet, column, theirs), ours in said.items():
        key = key_of(theirs)
        if ours:
            WordMatch.objects.update_or_create(sheet=sheet, column=column, theirs=key, defaults={"ours": ours})
        else:
            WordMatch.objects.filter(sheet=sheet, column=column, theirs=key).delete()
