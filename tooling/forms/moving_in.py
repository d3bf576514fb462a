"""Moving in: the files, what the shop's sheets and columns are among ours, and what its words mean."""

from collections.abc import Iterator
from typing import Any

from django import forms
from django.utils.translation import gettext as _now
from django.utils.translation import gettext_lazy as _

from tooling.forms.pictures import PictureFiles
from tooling.models import Kind
from tooling.services.moving_in.called import column_called, sheet_words, with_name
from tooling.services.moving_in.looking import Look, TheirColumn, is_ours_to_ignore
from tooling.services.moving_in.matching import Match
from tooling.services.moving_in.ours import DAY_FIRST, MONTH_FIRST
from tooling.services.moving_in.targets import TOOLS, offered
from tooling.services.sheets.registry import sheets

_LEFT_OUT = _("leave it out")
_LAST_ROW = 1_048_576


class UploadForm(forms.Form):
    """A workbook, or tables."""

    files = PictureFiles(
        label=_("Your workbook (.xlsx), or tables (.csv, or a ZIP of them)"),
        error_messages={"required": _("Choose a file first.")},
    )

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["files"].widget.attrs["accept"] = ".xlsx,.csv,.tsv,.txt,.zip"


class SettleForm(forms.Form):
    """What one word settles for all rows."""

    proposed_codes = forms.BooleanField(
        label=_("Take the codes in as proposed, the old ones stay known"), required=False
    )
    make_places = forms.BooleanField(label=_("Put up the places that are like none of yours"), required=False)
    days = forms.ChoiceField(
        label=_("Days are written"),
        required=False,
        choices=[
            ("", _("not said")),
            (DAY_FIRST, _("day first: 31/3/2026")),
            (MONTH_FIRST, _("month first: 3/31/2026")),
        ],
    )
    leave_lines = forms.BooleanField(label=_("Leave out the lines that are no tools"), required=False)
    leave_wrong = forms.BooleanField(label=_("Leave out the rows that are wrong"), required=False)


class MatchForm(forms.Form):
    """For each sheet of theirs which of ours it is; for each of its columns which of ours that is."""

    def __init__(self, matches: list[Match], data: Any = None) -> None:
        super().__init__(data)
        self.matches = [one for one in matches if one.look.columns]
        self.wide = [one.look.title for one in matches if one.look.is_wide]
        for index, one in enumerate(self.matches):
            self._add_sheet(index, one)

    def _add_sheet(self, index: int, one: Match) -> None:
        ours = [("", _LEFT_OUT), *((one.name, with_name(sheet_words(one.name), one.name)) for one in sheets())]
        add = self.fields.__setitem__
        add(f"s{index}", forms.ChoiceField(label=_("is"), choices=ours, required=False, initial=one.sheet))
        row = forms.IntegerField(min_value=1, max_value=_LAST_ROW, initial=one.look.header_row)
        row.label = _("Its columns are named in row")
        add(f"h{index}", row)
        if one.sheet == TOOLS:
            kinds = [("", _("a column says it")), *Kind.choices]
            add(
                f"k{index}",
                forms.ChoiceField(label=_("All of them are"), choices=kinds, required=False, initial=one.kind),
            )
        choices = [("", _LEFT_OUT), *((name, with_name(column_called(name), name)) for name in offered(one.sheet))]
        for column in one.look.columns:
            if one.sheet and not is_ours_to_ignore(column.key):
                field = forms.ChoiceField(label=column.title, choices=choices, required=False)
                field.initial = one.columns.get(column.key, "")
                if field.initial and field.initial not in dict(choices):
                    field.choices = [*choices, (field.initial, column_called(field.initial))]
                add(f"c{index}_{column.place}", field)

    def sheets(self) -> Iterator[dict[str, Any]]:
        """Each sheet with its fields, for the page."""
        for index, one in enumerate(self.matches):
            columns = [(column, self[name]) for column, name in self._columns(index, one)]
            kind = self[f"k{index}"] if f"k{index}" in self.fields else None
            yield {
                "match": one,
                "shown": f"shown{index}",
                "shown_row": f"shown_row{index}",
                "sheet": self[f"s{index}"],
                "row": self[f"h{index}"],
                "kind": kind,
                "columns": columns,
            }

    def _columns(self, index: int, one: Match) -> list[tuple[TheirColumn, str]]:
        named = [(column, f"c{index}_{column.place}") for column in one.look.columns]
        return [(column, name) for column, name in named if name in self.fields]

    def clean(self) -> dict[str, Any]:
        """A column of ours is one of theirs at most, and those that are needed are one."""
        said = super().clean() or {}
        for index, one in enumerate(self.matches):
            taken: dict[str, str] = {}
            for column, name in self._columns(index, one):
                ours = said.get(name, "").partition(" in ")[0]
                if ours and ours in taken:
                    message = _now("“%(other)s” is %(ours)s already. Say another one, or leave this out.")
                    self.add_error(name, message % {"other": taken[ours], "ours": column_called(ours)})
                elif ours:
                    taken[ours] = column.title
            self._check_needed(index, one, set(taken))
        return said

    def _check_needed(self, index: int, one: Match, taken: set[str]) -> None:
        kind = self.cleaned_data.get(f"k{index}", "")
        lacking = Match(one.look, one.sheet, kind, {name: name for name in taken}).lacking
        if one.sheet and lacking and not any(name in self.errors for __, name in self._columns(index, one)):
            named = ", ".join(map(column_called, lacking))
            message = _now("%(sheet)s cannot do without %(columns)s: say which of your columns it is, or leave it out.")
            self.add_error(f"s{index}", message % {"sheet": sheet_words(one.sheet), "columns": named})
        if kind and "kind" in taken:
            self.add_error(f"k{index}", _now("A column says it already: leave this at “a column says it”."))

    def said(self) -> list[Match]:
        """The sheets as they were matched."""
        return [
            Match(
                one.look,
                self.cleaned_data[f"s{index}"],
                self.cleaned_data.get(f"k{index}", ""),
                {column.key: self.cleaned_data[name] for column, name in self._columns(index, one)},
            )
            for index, one in enumerate(self.matches)
        ]


def posted_looks(data: Any, index: int, look: Look, sheet: str) -> tuple[str, int, bool]:
    """Which sheet and which row of names somebody chose, and whether these are others than the page showed."""
    names = {one.name for one in sheets()} | {""}
    chosen = data.get(f"s{index}", sheet)
    chosen = chosen if chosen in names else sheet
    row = data.get(f"h{index}", "").strip()
    header_row = int(row) if row.isascii() and row.isdigit() and 1 <= int(row[:8]) <= _LAST_ROW else look.header_row
    shown = (data.get(f"shown{index}", chosen), data.get(f"shown_row{index}", str(header_row)))
    return chosen, header_row, shown != (chosen, str(header_row))
