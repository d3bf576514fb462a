"""What a tool is found by besides its code: what stands on an old tag, or is written on it."""

from datetime import datetime

from django.core.exceptions import ValidationError
from django.db import transaction
from django.utils.translation import gettext as _

from shared.errors import Refused
from tooling.models import Person, Tool, ToolAlias, ToolChange
from tooling.models.codes import tidy_older_code
from tooling.services import search
from tooling.services.families import lock_all
from tooling.services.saving import save
from tooling.words.about import OLDER_CODE


@transaction.atomic
def find_by(tool: Tool, text: str, *, by: Person, at: datetime) -> ToolAlias | None:
    """From now on the tool is found by this text as well. None where it was before.

    Order: the locks of the tool; the check; the row, and who said so; the words by which it is found. Refused where it
    is or was the code of another tool, or can be none.
    """
    code = tidy_older_code(text)
    lock_all([tool])
    if Tool.objects.called(code).filter(pk=tool.pk).exists():
        return None
    older = ToolAlias(tool=tool, code=code)
    try:
        save(older)
    except ValidationError as wrong:
        taken = Tool.objects.called(code).first()
        message = _("“%(text)s” cannot become a code: scan the tag of the tool, or type its code.") % {"text": text}
        if taken is not None:
            message = _("%(code)s is or was the code of the tool %(other)s.") % {"code": code, "other": taken.code}
        raise Refused(message, "code") from wrong
    ToolChange.objects.create(tool=tool, at=at, who=by, field=OLDER_CODE, after=older.code)
    search.keep([tool.pk])
    return older
