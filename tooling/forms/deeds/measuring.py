"""What was measured on a tool, at one spot or several."""

from typing import Any

from tooling.forms.deeds.all_the_same import AskedFirst
from tooling.forms.deeds.base import DeedForm
from tooling.forms.deeds.pictures import WithPictures
from tooling.forms.deeds.reading_rows import ReadingRows
from tooling.selectors.measured_before import Before


class _Measured(WithPictures, DeedForm):
    """The values of one visit, with what they were measured with."""

    def __init__(self, *args: Any, before: Before, **more: Any) -> None:
        super().__init__(*args, **more)
        self.measured = ReadingRows(self, before)

    def clean(self) -> dict[str, Any]:
        data = super().clean()
        self.measured.clean()
        return data

    def facts(self) -> dict[str, Any]:
        """What is written of it."""
        return {"readings": self.measured.facts()}


class ReadingForm(AskedFirst, _Measured):
    """The same; a number that looks like a slip is asked about once."""

    def doubts(self, data: dict[str, Any]) -> list[str]:
        return self.measured.doubts()
