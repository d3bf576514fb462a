"""A defect that nobody knew of: what it is, where on a picture of the tool, how long; and one that came back."""

from datetime import datetime, timedelta
from typing import Any

from django import forms
from django.utils.translation import gettext as _now
from django.utils.translation import gettext_lazy as _

from tooling.calc.defect_lines import FOUND, OPENED, DefectLine
from tooling.forms.deeds.all_the_same import AskedFirst
from tooling.forms.deeds.base import DeedForm, chips, words
from tooling.forms.deeds.defects import LONGEST_WORDS, DefectsSeen, SizeField, millimetres
from tooling.forms.deeds.pictures import WithPictures
from tooling.models import Picture
from tooling.models.pictures import WHOLE
from tooling.words.marks import FIELDS
from tooling.words.terms import DEFECTS, SPOTS, spots_of, term
from tooling.words.when import plain_day

# Of a tool of which nothing is written a defect may be so old.
_UNASKED = timedelta(days=30)
_OUTSIDE = _("That spot lies outside the picture. Tap on the picture again.")


def _thousandths() -> forms.IntegerField:
    return forms.IntegerField(
        required=False,
        min_value=0,
        max_value=WHOLE,
        widget=forms.HiddenInput,
        error_messages={"min_value": _OUTSIDE, "max_value": _OUTSIDE, "invalid": _OUTSIDE},
    )


class OfDefect(WithPictures, DeedForm):
    """What is said of one defect: how long it is, in words, and close-up pictures."""

    words = words(_("In words"), longest=LONGEST_WORDS)

    def __init__(self, *args: Any, **more: Any) -> None:
        super().__init__(*args, **more)
        del self.fields["note"]
        self.fields["size"] = SizeField(units=self.who.units)


class FoundForm(AskedFirst, OfDefect):
    """Its kind, its spot, and whether the tool may be used all the same. `picture`: the one that is tapped on.

    kind: that of the tool. begins: since when something is written of it; what is said to be older is asked about once.
    """

    kind = chips(
        _("What is it?"),
        list(DEFECTS.items()),
        required=True,
        error_messages={"required": _("Say what it is; “something else” will do.")},
    )
    place = chips(_("Where on it"), list(SPOTS.items()))
    on = forms.IntegerField(required=False, widget=forms.HiddenInput)
    of = forms.IntegerField(required=False, min_value=1, widget=forms.HiddenInput)
    x, y = _thousandths(), _thousandths()
    field = chips(_("In which field of the picture?"), [(f"{x} {y}", text) for (x, y), text in FIELDS.items()])
    stop = forms.BooleanField(label=_("Stop it: do not use until somebody has looked"), required=False)

    def __init__(self, *args: Any, kind: str, picture: Picture | None, begins: datetime | None, **more: Any) -> None:
        super().__init__(*args, **more)
        self.picture, self._begins = picture, begins
        self.fields["place"].choices = spots_of(kind)

    def doubts(self, data: dict[str, Any]) -> list[str]:
        at = data.get("at")
        if at is None or at >= (self._begins or self.now - _UNASKED):
            return []
        text = _now("%(day)s: nothing is written of this tool from so long ago. Check the day.")
        return [text % {"day": plain_day(at.astimezone(self.shop.zone).date())}]

    def clean(self) -> dict[str, Any]:
        data = super().clean()
        if data.get("on") and (self.picture is None or self.picture.pk != data["on"]):
            self.add_error(None, _now("The picture that was marked is shown no longer. Choose another, and tap again."))
        if [self.errors.pop(name) for name in ("x", "y") if name in self.errors]:
            self.add_error(None, _OUTSIDE)
        return data

    @property
    def mark(self) -> tuple[int, int] | None:
        """Where on the picture it is: where it was tapped, else the middle of a field."""
        data = self.cleaned_data
        if self.picture is None:
            return None
        if data.get("x") is not None and data.get("y") is not None:
            return data["x"], data["y"]
        return tuple(map(int, data["field"].split())) if data.get("field") else None  # type: ignore[return-value]

    @property
    def line(self) -> DefectLine:
        """What the entry says of it."""
        data, mark = self.cleaned_data, self.mark or (None, None)
        return DefectLine(
            0,
            FOUND,
            data["kind"],
            size_mm=millimetres(data["size"]),
            x=mark[0],
            y=mark[1],
            place=data["place"],
            words=" ".join(data["words"].split()),
        )

    @property
    def reason(self) -> str:
        """Why it is held: crack, flange: by the second bolt."""
        data = self.cleaned_data
        what = ", ".join(filter(None, (term(DEFECTS, data["kind"]), term(SPOTS, data["place"]))))
        return ": ".join(filter(None, (what, data["words"])))


class SeenForm(WithPictures, DefectsSeen, DeedForm):
    """How one open defect is now."""

    def __init__(self, *args: Any, **more: Any) -> None:
        super().__init__(*args, **more)
        del self.fields["note"]
        (self.one,) = self.open_defects
        self.fields[f"defect_{self.one.number}"].required = True
        self.fields[f"defect_{self.one.number}"].label = _("How is it now?")
        self.fields[f"defect_{self.one.number}"].error_messages["required"] = _("Say how it is now.")


class AgainForm(OfDefect):
    """A closed defect that is there again."""

    def line(self, number: int) -> DefectLine:
        """What the entry says of it."""
        data = self.cleaned_data
        return DefectLine(number, OPENED, size_mm=millimetres(data["size"]), words=" ".join(data["words"].split()))
