"""Pictures that are given with a deed, and the mark on one that says where it is."""

from collections.abc import Mapping
from contextlib import suppress
from functools import cached_property
from typing import Any

from django import forms
from django.core import signing
from django.utils.translation import gettext as _now
from django.utils.translation import gettext_lazy as _

from shared.errors import Refused
from tooling.forms.pictures import PictureFiles, SentPictures, accepted
from tooling.models import Picture
from tooling.models.pictures import WHOLE
from tooling.services.pictures import Kept, Stored, store
from tooling.words.marks import FIELDS, field_of

# A form that is refused keeps so many pictures, for so many seconds: files without a row are swept after a day.
MOST_KEPT = 12
_KEPT_FOR, _SALT = 12 * 60 * 60, "pictures of a form"
# The boxes into which a picture is fitted where it is tapped on, in CSS pixels: a phone's and a desk's. The width is
# fixed, so that the server knows it: a browser without a script says which pixel was tapped, and not of how many.
BOXES = {"phone": (288, 400), "desk": (608, 560)}


class WithPictures(forms.Form):
    """A deed that takes pictures along. Put it before the form of the deed; the view calls `take_pictures`.

    Whatever is wrong with a picture is said when the deed is written: it is no reason to refuse the deed. Where
    something else is, its pictures are stored, and what they are called is sent along when it is sent again.
    """

    pictures = PictureFiles(label=_("Choose pictures"), required=False)
    kept_pictures = forms.CharField(required=False, max_length=MOST_KEPT * 600, widget=forms.HiddenInput)
    no_pictures = forms.BooleanField(label=_("Leave out what was kept"), required=False)

    def __init__(self, *args: Any, **more: Any) -> None:
        self._pictures_given: list[Any] = []
        super().__init__(*args, **more)
        self.fields["pictures"].widget.attrs["accept"] = accepted()

    def clean(self) -> dict[str, Any]:
        data = super().clean()
        data = data or self.cleaned_data
        self._pictures_given = [*self._kept_before(data), *(data.get("pictures") or [])]
        data["pictures"] = list(self._pictures_given)
        if getattr(self, "kept", False):
            self.add_error("pictures", _now("If there was a picture with it, choose it again."))
        return data

    def _kept_before(self, data: Mapping[str, Any]) -> list[Kept]:
        text = "" if data.get("no_pictures") else data.get("kept_pictures", "")
        try:
            return [Kept(columns) for columns in signing.loads(text, salt=_SALT, max_age=_KEPT_FOR)] if text else []
        except signing.BadSignature:
            self.add_error("pictures", _now("If there was a picture with it, choose it again."))
            return []

    @property
    def _shown_again(self) -> bool:
        return bool(self.errors or getattr(self, "would", None))

    @cached_property
    def held_pictures(self) -> list[Stored]:
        """What came with a form that is shown again: a browser does not keep the choice of a file."""
        held = []
        for file in self._pictures_given[:MOST_KEPT] if self._shown_again else ():
            with suppress(Refused):
                held.append(store(file))
        return held

    @property
    def held_as(self) -> str:
        """How they are sent along."""
        return signing.dumps(self.held_pictures, salt=_SALT, compress=True)

    @property
    def lost_pictures(self) -> bool:
        """Whether a form that is shown again came with pictures that are not kept."""
        others = any(name != "pictures" for name in self.files)
        return self._shown_again and (others or len(self.held_pictures) < len(self._pictures_given))


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
