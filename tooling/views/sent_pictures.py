"""What becomes of pictures that were sent: file by file, in words, and in JSON for a page with a script."""

from collections.abc import Callable, Iterable

from django.core.files.uploadedfile import UploadedFile
from django.forms import Form
from django.http import HttpRequest, JsonResponse
from django.utils.translation import gettext as _

from shared.errors import Refused
from shared.patience import MOST_FILES, Patience
from tooling.services.picture_folder import Taken

_LONGEST_NAME = 60  # of a file, as it is said back


def asks_json(request: HttpRequest) -> bool:
    """Whether a script asks, file by file."""
    return request.headers.get("Accept") == "application/json"


def take_each(files: Iterable[UploadedFile], take: Callable[[UploadedFile, Patience], Taken]) -> Taken:
    """Take in what can be; name what cannot."""
    taken, patience = Taken(), Patience()
    for count, file in enumerate(files, 1):
        try:
            if count > MOST_FILES:
                message = _("Not taken in: no more than %(most)s at once. Send this one again.")
                raise Refused(message % {"most": MOST_FILES})
            patience.check()
            taken.add(take(file, patience))
        except Refused as why:
            taken.wrong.append((file.name or "", why.message))
    return taken


def refused(taken: Taken) -> list[str]:
    """What was not taken, each with the reason."""
    return [f"{_said_back(name)}: {why}" if name else why for name, why in taken.wrong]


def counted(taken: Taken) -> str:
    """How many are in, and how many were."""
    said = [_("Added: %(n)s.") % {"n": taken.added}] if taken.added else []
    if taken.there:
        said.append(_("There already: %(n)s.") % {"n": taken.there})
    return " ".join(said)


def in_json(taken: Taken) -> JsonResponse:
    """The same for a script."""
    return JsonResponse({"added": taken.added, "there": taken.there, "refused": refused(taken)})


def wrong_in_json(form: Form) -> JsonResponse:
    """What the form itself lacks: the script sends nothing more until that is mended."""
    wrong = [message for errors in form.errors.values() for message in errors]
    return JsonResponse({"added": 0, "there": 0, "refused": wrong, "stop": True})


def _said_back(name: str) -> str:
    """The name of a file, its end where it is long."""
    return name if len(name) <= _LONGEST_NAME else f"…{name[-_LONGEST_NAME:]}"
