"""Pictures that came with a deed, once the deed is written: taken in one by one, and what is wrong with one is said."""

from django.contrib import messages
from django.core.files.uploadedfile import UploadedFile
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils.translation import gettext as _

from shared.clock import now
from shared.patience import Patience
from tooling.forms.deeds.pictures import WithPictures
from tooling.models import Defect, Entry, Person
from tooling.services.entry_pictures import picture_of
from tooling.services.picture_folder import Taken
from tooling.views.sent_pictures import refused, take_each


def take_pictures(
    request: HttpRequest,
    entry: Entry,
    files: list[UploadedFile],
    *,
    by: Person | None,
    defect: Defect | None = None,
    caption: str = "",
) -> Taken:
    """The pictures of an entry that is written, of one defect or none; what is refused is named on the next page."""

    def take(file: UploadedFile, _patience: Patience) -> Taken:
        about = {"defect": defect, "caption": caption}
        added = picture_of(entry, file, by=by, recorded_by=request.user, at=now(), **about)
        return Taken(added=added.is_new, there=not added.is_new)

    taken = take_each(files, take)
    for why in refused(taken):
        messages.error(request, _("It is written, but a picture is not with it. %(why)s Send it again.") % {"why": why})
    return taken


def with_pictures(request: HttpRequest, entry: Entry, form: WithPictures, otherwise: HttpResponse) -> HttpResponse:
    """Takes in what came with a deed. Goes on to where it is marked, or sent again; without a picture, otherwise."""
    if not form.cleaned_data["pictures"]:
        return otherwise
    take_pictures(request, entry, form.cleaned_data["pictures"], by=entry.by)
    return redirect("entry_pictures", code=entry.tool.code, number=entry.number)
