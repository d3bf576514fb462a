"""A checklist that is gone through with a deed: each line good, not good or not looked at, some with values."""

import re
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from typing import Any
from uuid import UUID

from django import forms
from django.utils.translation import gettext as _now
from django.utils.translation import gettext_lazy as _

from tooling.calc.answers import GOOD, LEFT, NOT_GOOD, Answer, write_answers
from tooling.forms.deeds.base import LONG_TEXT, chips, words
from tooling.forms.deeds.readings import LONGEST_WORD, NumberField
from tooling.models import Checklist, ChecklistItem, Purpose, Tool
from tooling.selectors.checklists import checklist_at, version_of
from tooling.services.deeds.looks import Measured
from tooling.services.deeds.undo import sent_before

SAID = {GOOD: _("good"), NOT_GOOD: _("not good"), LEFT: _("not looked at")}
_OF_ITEM = ("item", "words", "instrument", "calibrated")
_OF_LINE = re.compile(r"(?P<what>item|words|value|spot|instrument|calibrated)_(?P<line>\d+)(?P<spot>_\d+)?")


@dataclass(frozen=True, slots=True)
class Line:
    """One line with its fields, as a page shows it. is_new: it was not there when somebody began to answer."""

    item: ChecklistItem
    said: Any
    words: Any
    spots: list[tuple[Any, Any]]
    instrument: Any
    calibrated: Any
    is_new: bool


class WithChecklist(forms.Form):
    """A deed that goes through the checklist of the moment, where there is one. Put it before the form of the deed.

    `all_good` answers each line of which nothing else is said, and no line that asks for values and has none. Where
    the checklist was changed since the page was opened, what was answered stays with the lines that read the same.
    """

    PURPOSE: str = Purpose.LOOK_OVER

    # The version that the page showed; empty where it showed none.
    version = forms.CharField(required=False, max_length=9, widget=forms.HiddenInput)
    all_good = forms.BooleanField(label=_("All good"), required=False)

    def __init__(self, data: Any = None, *, tool: Tool, now: datetime, **more: Any) -> None:
        self.checklist, self.is_changed, self._new = checklist_at(tool.kind, self.PURPOSE, now), False, set[str]()
        self._of = tool.kind
        super().__init__(self._of_this_version(data), now=now, **more)
        self.initial["version"] = self._version
        for item in self.items:
            self._ask(item)

    @property
    def _version(self) -> str:
        return "" if self.checklist is None else str(self.checklist.version)

    @property
    def items(self) -> list[ChecklistItem]:
        """What is asked."""
        return list(self.checklist.items.all()) if self.checklist is not None else []

    def lines(self) -> Iterator[Line]:
        """What is asked, with its fields."""
        for item in self.items:
            said, in_words, instrument, calibrated = (f"{name}_{item.order}" for name in _OF_ITEM)
            yield Line(
                item=item,
                said=self[said],
                words=self[in_words],
                spots=[(self[f"spot_{item.order}_{one}"], self[f"value_{item.order}_{one}"]) for one in _spots(item)],
                instrument=self[instrument] if item.quantity else None,
                calibrated=self[calibrated] if item.quantity else None,
                is_new=item.words.upper() in self._new,
            )

    def clean(self) -> dict[str, Any]:
        data = super().clean() or self.cleaned_data
        if self.is_changed:
            self.add_error(None, _now(
                "The checklist was changed meanwhile. What you said stands where a line reads the same. Look at the "
                "others, and send it again."
            ))  # fmt: skip
        for item in self.items:
            self._check(item, data)
        return data

    def answered(self) -> list[Answer]:
        """What was said of each line; none at all where nobody said anything of any."""
        answers = [Answer(item.order, *self._said(item)) for item in self.items]
        return answers if any(one.said != LEFT or one.words for one in answers) else []

    def readings(self) -> list[Measured]:
        """The values that were measured."""
        data = self.cleaned_data
        return [
            Measured(
                quantity=item.quantity, value=value, unit=item.unit, geometry=item.geometry, spot=spot,
                instrument=data[f"instrument_{item.order}"], calibrated_until=data[f"calibrated_{item.order}"],
            )
            for item in self.items
            for spot, value in self._values(item)
        ]  # fmt: skip

    def gone_through(self) -> dict[str, Any]:
        """What the entry says of it: the version, the answers, and what was measured beside it."""
        answers = self.answered()
        version = self.checklist.version if self.checklist is not None and answers else None
        return {"checklist": version, "answers": write_answers(answers), "readings": self.readings()}

    def not_all_good(self) -> list[str]:
        """What should be known before somebody passes it, as sentences."""
        answers = {one.item: one.said for one in self.answered()}
        if self.items and not answers:
            return [_now("Nobody has gone through the checklist.")]
        bad, left = (
            "; ".join(item.words for item in self.items if answers.get(item.order) == said) for said in (NOT_GOOD, LEFT)
        )
        texts = ((bad, _now("Not good: %(lines)s.")), (left, _now("Not looked at: %(lines)s.")))
        return [text % {"lines": lines} for lines, text in texts if lines]

    def _ask(self, item: ChecklistItem) -> None:
        order = item.order
        self.fields[f"item_{order}"] = chips(item.words, list(SAID.items()))
        self.fields[f"words_{order}"] = words(_("What is not good"), longest=LONG_TEXT)
        # a stylesheet shows the field only where it is wanted, or where something stands in it
        self.fields[f"words_{order}"].widget.attrs["placeholder"] = " "
        if not item.quantity:
            return
        for spot in _spots(item):
            number = {"number": spot} if item.spots > 1 else None
            label = _now("Spot %(number)d") % number if number else _now("Spot")
            self.fields[f"spot_{order}_{spot}"] = words(label, longest=LONGEST_WORD)
            self.fields[f"value_{order}_{spot}"] = NumberField(
                label=_now("Value in %(unit)s") % {"unit": item.unit}, below_zero=True
            )
        self.fields[f"instrument_{order}"] = words(_("Instrument"), longest=LONGEST_WORD)
        self.fields[f"calibrated_{order}"] = forms.DateField(
            label=_("Calibrated until"),
            required=False,
            widget=forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d"),
            error_messages={"invalid": _("Write the day as 2026-03-31.")},
        )

    def _check(self, item: ChecklistItem, data: dict[str, Any]) -> None:
        """Values alone do not say that it is good."""
        name = f"item_{item.order}"
        if self._values(item) and data.get(name) in ("", None, LEFT) and not data.get("all_good"):
            self.add_error(name, _now("It was measured: say whether it is good."))

    def _said(self, item: ChecklistItem) -> tuple[str, str]:
        data = self.cleaned_data
        own, said_words = data.get(f"item_{item.order}") or "", data.get(f"words_{item.order}", "")
        answered = data.get("all_good") and (not item.quantity or self._values(item))
        return own or (GOOD if answered else LEFT), said_words

    def _values(self, item: ChecklistItem) -> list[tuple[str, Any]]:
        """Spot and value where there is one; a spot that nobody named goes by its number, where there are several."""
        found = []
        for spot in _spots(item):
            value = self.cleaned_data.get(f"value_{item.order}_{spot}")
            named = self.cleaned_data.get(f"spot_{item.order}_{spot}") or (str(spot) if item.spots > 1 else "")
            if value is not None:
                found.append((named, value))
        return found

    def _of_this_version(self, data: Any) -> Any:
        """What was sent, at the lines of the version of the moment. One that was written before keeps its version."""
        sent = data.get("version") if data is not None else None
        if sent is None or sent == self._version:
            return data
        old = (
            version_of(self._of, self.PURPOSE, int(sent))
            if sent.isascii() and sent.isdigit() and len(sent) < 10
            else None
        )
        if _was_written(data.get("token", "")):
            self.checklist = old
            return data
        self.is_changed = True
        return self._carried(data, old)

    def _carried(self, data: Any, old: Checklist | None) -> Any:
        """The same form with each answer at the line that reads as the one it was given to."""
        carried = data.copy()
        said = {name: carried.pop(name) for name in list(carried) if _OF_LINE.fullmatch(name) or name == "all_good"}
        before = {item.words.upper(): item for item in old.items.all()} if old is not None else {}
        for item in self.items:
            was = before.get(item.words.upper())
            if was is None:
                self._new.add(item.words.upper())
                continue
            if "all_good" in said and not was.quantity:
                carried[f"item_{item.order}"] = GOOD
            same = (was.quantity, was.unit, was.geometry) == (item.quantity, item.unit, item.geometry)
            for name in said:
                line = _OF_LINE.fullmatch(name)
                if line and int(line["line"]) == was.order and (same or line["what"] in ("item", "words")):
                    value = data[name]
                    if value:
                        carried[f"{line['what']}_{item.order}{line['spot'] or ''}"] = value
        carried["version"] = self._version
        return carried


def _spots(item: ChecklistItem) -> range:
    return range(1, item.spots + 1 if item.quantity else 1)


def _was_written(token: str) -> bool:
    try:
        return sent_before(UUID(token))
    except ValueError:
        return False
