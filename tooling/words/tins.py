"""What is said of a tin that is open."""

from datetime import date

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from tooling.words.when import day

# What is in it, where a recipe has more than one kind of tin. A semi-permanent recipe never says wax.
IN_IT = {"sealer": gettext_lazy("Sealer"), "coat": gettext_lazy("Coats"), "film": gettext_lazy("Film")}


def where(is_station: bool) -> str:
    """Tin 14, open at this station."""
    return _("open at this station") if is_station else _("open with you")


def past(expires_on: date | None, today: date) -> str:
    """That a tin is past its date, "" where it is not. It only warns: what a date means the supplier's sheet says."""
    if expires_on is None or expires_on >= today:
        return ""
    return _("Past its date (%(day)s): look into the supplier’s data sheet.") % {"day": day(expires_on, today)}
