"""Pictures as they are sent: several files at once, from a camera or from a folder."""

from typing import Any

from django import forms
from django.core.files.uploadedfile import UploadedFile
from django.utils.translation import gettext_lazy as _

from shared.images import reads_heic
from shared.natural import natural
from tooling.forms.deeds.hands import PersonField, ask_hands
from tooling.models import Person
from tooling.models.pictures import LONGEST_CAPTION

# Phones turn their own formats into one of these where no other is accepted.
ACCEPTED = "image/jpeg,image/png,image/webp"


class SeveralFiles(forms.FileInput):
    """A choice of several files."""

    allow_multiple_selected = True


class PictureFiles(forms.FileField):
    """One or more files, each looked at when it is taken in."""

    widget = SeveralFiles

    def clean(self, data: Any, initial: Any = None) -> list[UploadedFile]:
        """The files, 2 before 10; the first is asked for where there is none. An empty one is refused by name later."""
        files = list(data or [])
        if not files:
            super().clean(None, initial)
        return sorted(files, key=lambda file: natural(file.name or ""))


def accepted() -> str:
    """The kinds of files that a browser offers."""
    return f"{ACCEPTED},image/heic,image/heif" if reads_heic() else ACCEPTED


class SentPictures(forms.Form):
    """Pictures that are sent, and whose hands took them. `who` is signed in."""

    # There are two ways to choose, and a browser would insist on the first.
    use_required_attribute = False

    by = PersonField(label=_("Whose hands?"), queryset=Person.objects.none(), empty_label=None)

    def __init__(self, *args: Any, who: Person, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.who = who
        ask_hands(self, who)
        if who.is_station:
            self.fields["by"].widget.attrs["required"] = True
        self.fields["files"].widget.attrs["accept"] = accepted()

    def said(self) -> dict[str, Person]:
        """Whose hands, and who was signed in."""
        return {"by": self.cleaned_data.get("by") or self.who, "recorded_by": self.who}


class AddPictures(SentPictures):
    """New pictures, with one caption for all of them."""

    files = PictureFiles(label=_("Choose pictures"), error_messages={"required": _("Choose at least one picture.")})
    caption = forms.CharField(
        label=_("Caption for all of them, if you like"), required=False, max_length=LONGEST_CAPTION
    )


class ManyPictures(SentPictures):
    """Pictures of many tools, named by code, or a ZIP of them."""

    files = PictureFiles(
        label=_("Pictures, or a ZIP of them"), error_messages={"required": _("Choose at least one picture or a ZIP.")}
    )
    # Where a file lay in the folder that was chosen: browsers send it only where a script says so.
    inside = forms.CharField(required=False, max_length=1000, widget=forms.HiddenInput)

    def __init__(self, *args: Any, who: Person, **kwargs: Any) -> None:
        super().__init__(*args, who=who, **kwargs)
        self.fields["files"].widget.attrs["accept"] = f"{accepted()},.zip,application/zip"


class Caption(forms.Form):
    """What stands under a picture."""

    caption = forms.CharField(label=_("Caption"), required=False, max_length=LONGEST_CAPTION)


class ReplacePicture(forms.Form):
    """Another picture for the place of one."""

    file = forms.FileField(
        label=_("Another picture in its place"),
        allow_empty_file=True,
        error_messages={"required": _("Choose a picture.")},
    )

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["file"].widget.attrs["accept"] = accepted()
