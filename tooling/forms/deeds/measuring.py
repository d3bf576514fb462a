"""What was measured on a tool, at one spot or several."""

from typing import Any

from tooling.forms.deeds.base import DeedForm
from tooling.forms.deeds.pictures import WithPictures
from tooling.forms.deeds.reading_rows import ReadingRows
from tooling.selectors.measured_before import Before


class ReadingForm(WithPictures, DeedForm):
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
