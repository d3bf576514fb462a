"""Pictures that are given with a deed, and the mark on one that says where it is."""

from collections.abc import Mapping
from typing import Any

from django import forms
from django.utils.translation import gettext as _now
from django.utils.translation import gettext_lazy as _

from tooling.forms.pictures import PictureFiles, SentPictures, accepted
from tooling.models import Picture
from tooling.models.pictures import WHOLE
from tooling.words.marks import FIELDS, field_of

# The boxes into which a picture is fitted where it is tapped on, in CSS pixels: a phone's and a desk's. The width is
# fixed, so that the server knows it: a browser without a script says which pixel was tapped, and not of how many.
BOXES = {"phone": (288, 400), "desk": (608, 560)}


class WithPictures(forms.Form):
    """A deed that takes pictures along. Put it before the form of the deed; the view calls `take_pictures`.

    Whatever is wrong with a picture is said when the deed is written: it is no reason to refuse the deed.
    """

    pictures = PictureFiles(label=_("Choose pictures"), required=False)

    def __init__(self, *args: Any, **more: Any) -> None:
        super().__init__(*args, **more)
        self.fields["pictures"].widget.attrs["accept"] = accepted()

    def clean(self) -> dict[str, Any]:
        data = super().clean()
        if getattr(self, "kept", False):
            self.add_error("pictures", _now("If there was a picture with it, choose it again."))
        return data or self.cleaned_data

    @property
    def lost_pictures(self) -> bool:
        """Whether pictures came with a form that is shown again: a browser does not keep the choice of a file."""
        return bool(self.errors or getattr(self, "would", None)) and bool(self.files)


class MorePictures(SentPictures):
    """Pictures of what is written already. `asks`: whether whose hands is not known."""

    files = PictureFiles(label=_("Choose pictures"), error_messages={"required": _("Choose at least one picture.")})

    def __init__(self, *args: Any, asks: bool, **more: Any) -> None:
        super().__init__(*args, **more)
        if not asks:
            self.fields.pop("by", None)


class MarkForm(forms.Form):
    """A tap on the picture, one of nine fields, or no mark."""

    field = forms.TypedChoiceField(
        label=_("Where is it?"),
        required=False,
        choices=[(f"{across} {down}", words) for (across, down), words in FIELDS.items()],
        coerce=lambda text: tuple(map(int, text.split())),
        empty_value=None,
        widget=forms.RadioSelect,
        error_messages={"invalid_choice": _("Choose one of the nine fields.")},
    )

    def __init__(self, *args: Any, picture: Picture, **more: Any) -> None:
        super().__init__(*args, **more, auto_id=f"id_%s_{picture.pk}")
        self.picture = picture
        if picture.mark is not None:
            self.initial["field"] = "{} {}".format(*field_of(picture.mark))

    def clean(self) -> dict[str, Any]:
        data = self.cleaned_data
        tapped = tapped_on(self.picture, self.data)
        if tapped is not None or "none" in self.data:
            data["place"] = tapped
        elif data.get("field") is not None:
            data["place"] = data["field"]
        elif not self.errors:
            self.add_error("field", _now("Tap on the picture, or choose one of the nine fields."))
        return data


def tapped_on(picture: Picture, data: Mapping[str, Any]) -> tuple[int, int] | None:
    """Where a picture was tapped, in thousandths; a key that was pressed on it says 0, 0."""
    for name in BOXES:
        try:
            at = int(data[f"{name}.x"]), int(data[f"{name}.y"])
        except (KeyError, ValueError):
            continue
        if at != (0, 0):
            across, down = (
                min(WHOLE, max(0, round(one * WHOLE / long)))
                for one, long in zip(at, fitted(picture, name), strict=True)
            )
            return across, down
    return None


def fitted(picture: Picture, box: str) -> tuple[int, int]:
    """How wide and high a picture stands in one of BOXES."""
    wide, high = BOXES[box]
    share = min(wide / picture.width, high / picture.height)
    return max(1, round(picture.width * share)), max(1, round(picture.height * share))
