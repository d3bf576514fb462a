"""What is said once a print of tags did not come out."""

from django.utils.translation import gettext as _
from django.utils.translation import ngettext


def put_back_said(count: int, *, held: bool) -> str:
    """How many tools came on the list by that, and where none did, why."""
    if count:
        said = ngettext("%(n)d tool is on the list again.", "%(n)d tools are on the list again.", count)
        return said % {"n": count}
    if held:
        return _("Held tags are on no list: print them once more from the tools that are held.")
    return _(
        "No tool came on the list by that: each one of this print is there already, or was printed again since. Tags "
        "of places are on no list."
    )
