"""The pictures of a tool: looked at, added, put in order, replaced; and their files."""

from collections.abc import Callable

from django.contrib import messages
from django.core.exceptions import PermissionDenied
from django.core.files.storage import default_storage
from django.core.files.uploadedfile import UploadedFile
from django.http import FileResponse, Http404, HttpRequest, HttpResponse, HttpResponseBase, JsonResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils.translation import gettext as _
from django.utils.translation import ngettext
from django.views.decorators.http import etag, require_http_methods, require_safe

from shared import clock
from shared.access import can_lead, can_log, can_read, needs
from shared.errors import Refused
from shared.images import CONTENT_TYPE
from shared.patience import Patience
from tooling.forms.pictures import AddPictures, Caption, ReplacePicture
from tooling.models import Picture, Shop, Tool
from tooling.selectors.pictures import gallery
from tooling.services import pictures as services
from tooling.services.picture_files import name_of
from tooling.views.tool import no_tool

_YEAR = 365 * 24 * 60 * 60
_LONGEST_NAME = 60  # of a file, as it is said back


@needs(can_read)
@require_http_methods(["GET", "HEAD", "POST"])
def pictures(request: HttpRequest, code: str) -> HttpResponse:
    """Every picture of a tool, the old ones as well; hands add some."""
    tool = _tool(code)
    if request.method == "POST":
        if not can_log(request.user):
            raise PermissionDenied
        return no_tool(request, code) if tool is None else _add(request, tool)
    if tool is None:
        return no_tool(request, code)
    if tool.code != code:
        return redirect("pictures", code=tool.code)
    return _gallery(request, tool, AddPictures())


@needs(can_lead)
@require_http_methods(["GET", "HEAD", "POST"])
def change_picture(request: HttpRequest, code: str, number: int) -> HttpResponse:
    """One picture: its caption, its place, another in its place, or none."""
    picture = get_object_or_404(Picture.objects.select_related("tool", "added_by", "taken_down_by"), pk=number)
    if picture.tool.code != code:
        raise Http404
    caption, other = Caption(initial={"caption": picture.caption}), ReplacePicture()
    wrong = ""
    if request.method == "POST":
        do = request.POST.get("do", "")
        caption = Caption(request.POST) if do == "caption" else caption
        other = ReplacePicture(request.POST, request.FILES) if do == "replace" else other
        try:
            if _change(request, picture, do, caption, other):
                return redirect(reverse("pictures", args=[code]) + "#pictures")
        except Refused as refused:
            wrong = refused.message
    context = {"tool": picture.tool, "picture": picture, "caption": caption, "other": other, "wrong": wrong}
    return render(request, "tooling/change_picture.html", {**context, **_frame()})


@needs(can_read)
@require_safe
@etag(lambda request, digest: f'"{digest}"')
def picture_file(request: HttpRequest, digest: str) -> HttpResponseBase:
    """A stored picture. What is in it never changes, so a browser need not ask again; it is an image and no more."""
    try:
        file = default_storage.open(name_of(digest))
    except FileNotFoundError as missing:
        raise Http404 from missing
    reply = FileResponse(file, content_type=CONTENT_TYPE)
    reply["Cache-Control"] = f"private, max-age={_YEAR}, immutable"
    reply["X-Content-Type-Options"] = "nosniff"
    return reply


def _tool(code: str) -> Tool | None:
    return Tool.objects.called(code).first()


def _gallery(request: HttpRequest, tool: Tool, form: AddPictures, refused: tuple[str, ...] = ()) -> HttpResponse:
    context = {
        "tool": tool,
        "gallery": gallery(tool),
        "form": form,
        "refused": refused,
        "may_log": can_log(request.user),
        "may_lead": can_lead(request.user),
    }
    return render(request, "tooling/pictures.html", {**context, **_frame()})


def _frame() -> dict[str, object]:
    shop = Shop.current()
    return {"shop": shop, "zone": shop.zone, "now": clock.now()}


def _add(request: HttpRequest, tool: Tool) -> HttpResponse:
    """Take in what can be; name what cannot. A page with a script asks file by file, and is answered in JSON."""
    form = AddPictures(request.POST, request.FILES)
    asks_json = request.headers.get("Accept") == "application/json"
    if not form.is_valid():
        wrong = [message for errors in form.errors.values() for message in errors]
        return JsonResponse({"added": 0, "refused": wrong}) if asks_json else _gallery(request, tool, form)
    added, refused, patience = 0, [], Patience()
    for file in form.cleaned_data["files"]:
        try:
            patience.check()
            added += _added(request, tool, file, form.cleaned_data["caption"])
        except Refused as why:
            refused.append(f"{said_back(file.name or '')}: {why.message}")
    if asks_json:
        return JsonResponse({"added": added, "refused": refused})
    if added or not refused:
        messages.success(request, _said(added))
    if refused:
        return _gallery(request, tool, AddPictures(initial=request.POST.dict()), tuple(refused))
    return redirect("pictures", code=tool.code)


def _added(request: HttpRequest, tool: Tool, file: UploadedFile, caption: str) -> bool:
    """Whether it is new: the same picture again is the one that is there."""
    at = clock.now()
    return services.add_picture(tool, file, by=request.user, at=at, caption=caption).added_at == at


def said_back(name: str) -> str:
    """The name of a file, its end where it is long."""
    return name if len(name) <= _LONGEST_NAME else f"…{name[-_LONGEST_NAME:]}"


def _said(added: int) -> str:
    if not added:
        return _("They were there already.")
    return ngettext("%(n)s picture added.", "%(n)s pictures added.", added) % {"n": added}


def _change(request: HttpRequest, picture: Picture, do: str, caption: Caption, other: ReplacePicture) -> bool:
    """Do what was asked for; whether it was done, and not a form to be filled in again."""
    plain: dict[str, Callable[[], object]] = {
        "main": lambda: services.make_main(picture),
        "earlier": lambda: services.move(picture, by=-1),
        "later": lambda: services.move(picture, by=1),
        "down": lambda: services.take_down(picture, by=request.user, at=clock.now()),
        "back": lambda: services.put_back(picture),
    }
    if do in plain:
        plain[do]()
    elif do == "caption" and caption.is_valid():
        services.set_caption(picture, caption.cleaned_data["caption"])
    elif do == "replace" and other.is_valid():
        services.replace_picture(picture, other.cleaned_data["file"], by=request.user, at=clock.now())
    else:
        return False
    return True
