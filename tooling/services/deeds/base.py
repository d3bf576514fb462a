"""What every deed says besides its own facts."""

from datetime import datetime, timedelta
from typing import TypedDict
from uuid import UUID

from tooling.models import Person
from tooling.services.drafts import LeftAlone

# Lines of `calc.defect_lines`, or such as get their numbers under the locks.
Defects = str | LeftAlone


class Said(TypedDict, total=False):
    """Whose hands, who was signed in, when it happened (None: now, or `ago`), the form's token, and free words."""

    by: Person | None
    recorded_by: Person | None
    at: datetime | None
    ago: timedelta | None
    token: UUID | None
    note: str
