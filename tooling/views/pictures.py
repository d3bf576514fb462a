"""The pictures of a tool: looked at, added, put in order, replaced; and their files."""

from collections.abc import Callable

from django.contrib import messages
from django.core.exceptions import PermissionDenied
from django.core.files.storage import default_storage
from django.core.files.uploadedfile import UploadedFile
from django.http import FileResponse, Http404, HttpRequest, HttpResponse, HttpResponseBase
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.http import etag, require_http_methods, require_safe

from shared import clock
from shared.access import can_lead, can_log, can_read, needs
from shared.errors import Refused
from shared.images import CONTENT_TYPE
from shared.patience import MOST_FILES, Patience
from tooling.forms.deeds.undo import RubOutForm
from tooling.forms.pictures import AddPictures, Caption, ReplacePicture
from tooling.models import Picture, Shop, Tool
from tooling.selectors.pictures import Gallery, gallery
from tooling.selectors.timeline import counts_named, places_named, tools_named
from tooling.services import pictures as services
from tooling.services.picture_files import name_of
from tooling.services.picture_folder import Taken
from tooling.views.no_tool import no_tool
from tooling.views.pin import takes_pin
from tooling.views.sent_pictures import asks_json, counted, in_json, refused, take_each, wrong_in_json
from tooling.words.entries import Around, Told, told

_YEAR = 365 * 24 * 60 * 60
# What a hand may do with a picture of its own: look at the page, say something else, rub it out.
_OF_HANDS = ("", "caption", "rub")


@needs(can_read)
@takes_pin
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
    return _gallery(request, tool, AddPictures(who=request.user))


@needs(can_log)
@takes_pin
@require_http_methods(["GET", "HEAD", "POST"])
def change_picture(request: HttpRequest, code: str, number: int) -> HttpResponse:
    """One picture: its caption, its place, another in its place, or none. A hand's own only, for five minutes."""
    picture = get_object_or_404(Picture.objects.select_related("tool", "added_by", "taken_down_by"), pk=number)
    if picture.tool != _tool(code):
        raise Http404
    if request.method != "POST" and picture.tool.code != code:
        return redirect("change_picture", code=picture.tool.code, number=number)
    do = request.POST.get("do", "")
    if not can_lead(request.user):
        if picture.recorded_by != request.user or do not in _OF_HANDS:
            raise PermissionDenied
        if not services.may_take_back(picture, request.user, clock.now()):
            messages.error(request, _("Five minutes after adding only a lead changes a picture."))
            return redirect("pictures", code=picture.tool.code)
    return _changed(request, picture, do)


def _changed(request: HttpRequest, picture: Picture, do: str) -> HttpResponse:
    """Back to all of them where it was done; else the page, which says what is wrong."""
    caption, other = Caption(initial={"caption": picture.caption}), ReplacePicture()
    sent = request.POST if request.method == "POST" else None
    same, wrong = RubOutForm(sent, who=request.user, wrote=picture.added_by_id, now=clock.now()), ""
    if request.user.is_station and do and not same.is_valid():
        wrong = " ".join(same.errors["by"])
    elif request.method == "POST":
        caption = Caption(request.POST) if do == "caption" else caption
        other = ReplacePicture(request.POST, request.FILES) if do == "replace" else other
        try:
            if _change(request, picture, do, caption, other):
                return redirect(reverse("pictures", args=[picture.tool.code]) + "#pictures")
        except Refused as why:
            wrong = why.message
    context = {
        "tool": picture.tool,
        "picture": picture,
        "caption": caption,
        "other": other,
        "wrong": wrong,
        "same": same,
    }
    return render(request, "tooling/change_picture.html", {**context, **_frame(request)})


@needs(can_read)
@require_safe
@etag(lambda request, digest: f'"{digest}"')
def picture_file(request: HttpRequest, digest: str) -> HttpResponseBase:
    """A stored picture. What is in it never changes, so a browser need not ask again."""
    try:
        file = default_storage.open(name_of(digest))
    except FileNotFoundError as missing:
        raise Http404 from missing
    reply = FileResponse(file, content_type=CONTENT_TYPE)
    reply["Cache-Control"] = f"private, max-age={_YEAR}, immutable"
    return reply


def _tool(code: str) -> Tool | None:
    return Tool.objects.called(code).first()


def _gallery(request: HttpRequest, tool: Tool, form: AddPictures, taken: Taken | None = None) -> HttpResponse:
    said = {"refused": refused(taken), "counted": counted(taken)} if taken is not None else {}
    shown = gallery(tool)
    context = {
        "tool": tool,
        "gallery": shown,
        "given": _given(shown, request.user.units),
        "form": form,
        "most": MOST_FILES,
        **said,
    }
    return render(request, "tooling/pictures.html", {**context, **_frame(request)})


def _given(shown: Gallery, units: str) -> list[tuple[Picture, Told]]:
    """The pictures that were given with an entry, each with what that says."""
    entries = [one.entry for one in shown.given if one.entry is not None]
    if not entries:
        return []
    around = Around(
        clock.now(), Shop.current().zone, tools_named(entries), places_named(entries), units, counts_named(entries)
    )
    return [(one, told(entry, around)) for one, entry in zip(shown.given, entries, strict=True)]


def _frame(request: HttpRequest) -> dict[str, object]:
    shop = Shop.current()
    may = {"may_log": can_log(request.user), "may_lead": can_lead(request.user)}
    return {"shop": shop, "zone": shop.zone, "now": clock.now(), **may}


def _add(request: HttpRequest, tool: Tool) -> HttpResponse:
    """Take in what can be; name what cannot. A page with a script asks file by file, and is answered in JSON."""
    form = AddPictures(request.POST, request.FILES, who=request.user)
    if not form.is_valid():
        return wrong_in_json(form) if asks_json(request) else _gallery(request, tool, form)

    def take(file: UploadedFile, _patience: Patience) -> Taken:
        caption = form.cleaned_data["caption"]
        added = services.add_picture(tool, file, at=clock.now(), caption=caption, **form.said())
        return Taken(added=added.is_new, there=not added.is_new)

    taken = take_each(form.cleaned_data["files"], take)
    if asks_json(request):
        return in_json(taken)
    if taken.wrong:
        return _gallery(request, tool, AddPictures(who=request.user, initial=request.POST.dict()), taken)
    messages.success(request, counted(taken))
    return redirect("pictures", code=tool.code)


def _change(request: HttpRequest, picture: Picture, do: str, caption: Caption, other: ReplacePicture) -> bool:
    """Do what was asked for; whether it was done, and not a form to be filled in again."""
    at, who = clock.now(), request.user
    plain: dict[str, Callable[[], object]] = {
        "main": lambda: services.make_main(picture),
        "earlier": lambda: services.move(picture, by=-1),
        "later": lambda: services.move(picture, by=1),
        "down": lambda: services.take_down(picture, by=who, at=at),
        "back": lambda: services.put_back(picture, by=who, at=at),
        "rub": lambda: services.take_back(picture, recorded_by=who, at=at),
    }
    if do in plain:
        plain[do]()
    elif do == "caption" and caption.is_valid():
        by = picture.added_by if who.is_station else who
        services.set_caption(picture, caption.cleaned_data["caption"], by=by or who, at=at)
    elif do == "replace" and other.is_valid():
        services.replace_picture(picture, other.cleaned_data["file"], by=who, at=at)
    else:
        return False
    return True
