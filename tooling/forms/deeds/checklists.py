"""A checklist that is gone through with a deed: each line good, not good or not looked at, some with values."""

import re
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from typing import Any
from uuid import UUID

from django import forms
from django.forms import BoundField
from django.utils.translation import gettext as _now
from django.utils.translation import gettext_lazy as _

from tooling.calc.answers import GOOD, LEFT, NOT_GOOD, Answer, write_answers
from tooling.forms.deeds.base import LONG_TEXT, chips, words
from tooling.forms.deeds.reading_rows import ReadingRows, Wanted
from tooling.models import Checklist, ChecklistItem, Purpose, Tool
from tooling.selectors.checklists import checklist_at, version_of
from tooling.selectors.measured_before import Before, measured_before
from tooling.services.deeds.undo import sent_before
from tooling.words.looks_answered import SAID, too_few

# What was sent of a line: its answer and words, and what was measured at it.
_OF_LINE = re.compile(r"(?P<what>item_|words_|measured)(?P<line>\d+)(?P<rest>_\w+)?")


@dataclass(frozen=True, slots=True)
class Line:
    """One line with its fields, as a page shows it. is_new: it was not there when somebody began to answer."""

    item: ChecklistItem
    said: BoundField
    words: BoundField
    measured: ReadingRows | None
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
        self._measured: dict[int, ReadingRows] = {}
        before = measured_before(tool, now, self._whose) if any(item.quantity for item in self.items) else Before()
        for item in self.items:
            self._ask(item, before)

    @property
    def _whose(self) -> int | None:
        """Whose instruments are proposed: nobody's where it is evidence."""
        return self.who.pk if self.PURPOSE == Purpose.LOOK_OVER else None  # type: ignore[attr-defined]

    @property
    def _version(self) -> str:
        return "" if self.checklist is None else str(self.checklist.version)

    @property
    def items(self) -> list[ChecklistItem]:
        """What is asked."""
        return list(self.checklist.items.all()) if self.checklist is not None else []

    @property
    def readings_asked(self) -> bool:
        """Whether a line wants values."""
        return bool(self._measured)

    def checklist_lines(self) -> Iterator[Line]:
        """What is asked, with its fields."""
        for item in self.items:
            order = item.order
            said, in_words, measured = self[f"item_{order}"], self[f"words_{order}"], self._measured.get(order)
            yield Line(item, said, in_words, measured, is_new=item.words.upper() in self._new)

    def clean(self) -> dict[str, Any]:
        data = super().clean() or self.cleaned_data
        if self.is_changed:
            self.add_error(None, _now(
                "The checklist was changed meanwhile. What you said stands where a line reads the same. Look at the "
                "others, and send it again."
            ))  # fmt: skip
        for order, measured in self._measured.items():
            measured.clean()
            # values alone do not say that it is good
            if measured.facts() and not data.get("all_good") and data.get(f"item_{order}") in ("", None, LEFT):
                self.add_error(f"item_{order}", _now("It was measured: say whether it is good."))
        return data

    def answered(self) -> list[Answer]:
        """What was said of each line; none at all where nobody said anything of any."""
        answers = [Answer(item.order, *self._said(item)) for item in self.items]
        return answers if any(one.said != LEFT or one.words for one in answers) else []

    def readings(self) -> list[dict[str, Any]]:
        """What was measured at the lines, one value each, as `take_readings` takes it."""
        return [fact for measured in self._measured.values() for fact in measured.facts()]

    def gone_through(self) -> dict[str, Any]:
        """What the entry says of it: the version, the answers, and what was measured beside it."""
        answers = self.answered()
        version = self.checklist.version if self.checklist is not None and answers else None
        return {"checklist": version, "answers": write_answers(answers), "readings": self.readings()}

    def calibration_over(self) -> list[str]:
        """Of each instrument whose calibration was over, that it was."""
        return list(dict.fromkeys(rows.flagged for rows in self._measured.values() if rows.flagged))

    def not_all_good(self) -> list[str]:
        """What should be known before somebody passes it, as sentences."""
        answers, all_good = {one.item: one.said for one in self.answered()}, self.cleaned_data.get("all_good")
        if self.items and not answers and not all_good:
            return [_now("Nobody has gone through the checklist.")]
        few = {
            item.order: f"{item.words}: {too_few(item.spots, self._given(item))}"
            for item in self.items
            if self._given(item) < item.spots and (answers.get(item.order) == GOOD or (all_good and item.quantity))
        }
        bad, left = (
            "; ".join(
                item.words for item in self.items if answers.get(item.order, LEFT) == said and item.order not in few
            )
            for said in (NOT_GOOD, LEFT)
        )
        texts = ((bad, _now("Not good: %(lines)s.")), (left, _now("Not looked at: %(lines)s.")))
        return [*(text % {"lines": lines} for lines, text in texts if lines), *few.values(), *self.calibration_over()]

    def _given(self, item: ChecklistItem) -> int:
        """How many values stand at a line; as many as are wanted where none is."""
        rows = self._measured.get(item.order)
        return len(rows.facts()) if rows is not None else item.spots

    def _ask(self, item: ChecklistItem, before: Before) -> None:
        order = item.order
        self.fields[f"item_{order}"] = chips(item.words, list(SAID.items()))
        self.fields[f"words_{order}"] = words(_("What is not good"), longest=LONG_TEXT)
        # a stylesheet shows the field only where it is wanted, or where something stands in it
        self.fields[f"words_{order}"].widget.attrs["placeholder"] = " "
        if item.quantity:
            wanted = Wanted(item.quantity, item.unit, item.geometry, item.spots)
            rows = ReadingRows(self, before, prefix=f"measured{order}_", wanted=wanted, may_be_left=True)  # type: ignore[arg-type]
            self._measured[order] = rows

    def _said(self, item: ChecklistItem) -> tuple[str, str]:
        data = self.cleaned_data
        own, said_words = data.get(f"item_{item.order}") or "", data.get(f"words_{item.order}", "")
        measured = self._measured.get(item.order)
        answered = data.get("all_good") and (measured is None or measured.facts())
        return own or (GOOD if answered else LEFT), said_words

    def _of_this_version(self, data: Any) -> Any:
        """What was sent, at the lines of the version of the moment. One that was written before keeps its version."""
        sent = data.get("version") if data is not None else None
        if sent is None or sent == self._version:
            return data
        number = int(sent) if sent.isascii() and sent.isdigit() and len(sent) < 10 else None
        old = version_of(self._of, self.PURPOSE, number)
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
                if line and data[name] and line["line"] == str(was.order) and (same or line["what"] != "measured"):
                    carried[f"{line['what']}{item.order}{line['rest'] or ''}"] = data[name]
        carried["version"] = self._version
        return carried


def _was_written(token: str) -> bool:
    try:
        return sent_before(UUID(token))
    except ValueError:
        return False
