"""How old the last backup is, in a sentence."""

from datetime import datetime

from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from tooling.models import Shop


def backup_wanted(shop: Shop, at: datetime) -> str:
    """What the board says of the last backup; "" where it is young enough, or the shop does not want to be told."""
    if not shop.backup_days:
        return ""
    if shop.backed_up_at is None:
        return _("This shop was never backed up.")
    days = (at - shop.backed_up_at).days
    if days < shop.backup_days:
        return ""
    return ngettext("The last backup is %(n)s day old.", "The last backup is %(n)s days old.", days) % {"n": days}


def in_groups(digest: str) -> str:
    """A digest as it is printed: eight letters at a time, so that somebody can read it aloud or type it."""
    return " ".join(digest[start : start + 8] for start in range(0, len(digest), 8))


def so_many(count: int) -> str:
    """Of how many entries a check value is."""
    return ngettext("%(n)d entry", "%(n)d entries", count) % {"n": count}
