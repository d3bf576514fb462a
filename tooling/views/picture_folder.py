"""Pictures of many tools at once, named by the codes of their tools."""

from pathlib import PurePosixPath

from django.contrib import messages
from django.core.files.uploadedfile import UploadedFile
from django.http import HttpRequest, HttpResponse, JsonResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods

from shared import clock
from shared.access import can_log, needs
from shared.errors import Refused
from shared.patience import Patience
from tooling.forms.pictures import ManyPictures
from tooling.services.picture_folder import Taken, add_sent
from tooling.views.pictures import said_back


@needs(can_log)
@require_http_methods(["GET", "HEAD", "POST"])
def many_pictures(request: HttpRequest) -> HttpResponse:
    """A folder or ZIP of pictures. A page with a script sends file by file, and is answered in JSON."""
    if request.method != "POST":
        return _page(request, ManyPictures())
    form = ManyPictures(request.POST, request.FILES)
    asks_json = request.headers.get("Accept") == "application/json"
    if not form.is_valid():
        wrong = [message for errors in form.errors.values() for message in errors]
        return JsonResponse({"added": 0, "refused": wrong}) if asks_json else _page(request, form)
    taken, patience = Taken(), Patience()
    for file in form.cleaned_data["files"]:
        _take(taken, request, file, form.cleaned_data["inside"], patience)
    refused = [f"{said_back(name)}: {why}" if name else why for name, why in taken.wrong.items()]
    if asks_json:
        return JsonResponse({"added": taken.added, "refused": refused})
    words = _("Added: %(n)s. There already: %(there)s.") % {"n": taken.added, "there": taken.there}
    if refused:
        return _page(request, ManyPictures(), tuple(refused), words if taken.added or taken.there else "")
    messages.success(request, words)
    return redirect("many_pictures")


def _take(taken: Taken, request: HttpRequest, file: UploadedFile, inside: str, patience: Patience) -> None:
    """Adds what became of one file that was sent; `inside`: its path in the folder that was chosen."""
    sent = file.name or ""
    name = PurePosixPath(PurePosixPath(inside).parent.name, sent)
    try:
        patience.check()
        one = add_sent(file, name, by=request.user, at=clock.now())
    except Refused as refused:
        taken.wrong[sent] = refused.message
        return
    taken.added += one.added
    taken.there += one.there
    taken.wrong.update(one.wrong)


def _page(request: HttpRequest, form: ManyPictures, refused: tuple[str, ...] = (), added: str = "") -> HttpResponse:
    return render(request, "tooling/many_pictures.html", {"form": form, "refused": refused, "added": added})
