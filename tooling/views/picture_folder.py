"""Pictures of many tools at once, named by the codes of their tools."""

from pathlib import PurePosixPath

from django.contrib import messages
from django.core.files.uploadedfile import UploadedFile
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods

from shared import clock
from shared.access import can_log, needs
from shared.patience import MOST_FILES, Patience
from tooling.forms.pictures import ManyPictures
from tooling.services.picture_folder import MOST_SENT, Taken, add_sent
from tooling.views.pin import takes_pin
from tooling.views.sent_pictures import asks_json, counted, in_json, refused, take_each, wrong_in_json


@needs(can_log)
@takes_pin
@require_http_methods(["GET", "HEAD", "POST"])
def many_pictures(request: HttpRequest) -> HttpResponse:
    """A folder or ZIP of pictures. A page with a script sends file by file, and is answered in JSON."""
    if request.method != "POST":
        return _page(request, ManyPictures(who=request.user))
    form = ManyPictures(request.POST, request.FILES, who=request.user)
    if not form.is_valid():
        return wrong_in_json(form) if asks_json(request) else _page(request, form)
    folder = PurePosixPath(form.cleaned_data["inside"]).parent.name  # of the folder that was chosen, where the file lay

    def take(file: UploadedFile, patience: Patience) -> Taken:
        name = PurePosixPath(folder, file.name or "")
        return add_sent(file, name, at=clock.now(), patience=patience, **form.said())

    taken = take_each(form.cleaned_data["files"], take)
    if asks_json(request):
        return in_json(taken)
    if taken.wrong:
        return _page(request, ManyPictures(who=request.user, initial=request.POST.dict()), taken)
    messages.success(request, counted(taken))
    return redirect("many_pictures")


def _page(request: HttpRequest, form: ManyPictures, taken: Taken | None = None) -> HttpResponse:
    said = {"refused": refused(taken), "counted": counted(taken)} if taken is not None else {}
    context = {"form": form, "most": MOST_FILES, "most_in_zip": MOST_SENT, **said}
    return render(request, "tooling/many_pictures.html", context)
