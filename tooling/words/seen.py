"""What is said of a tool that was just met at a place."""

from typing import Any

from django.utils.translation import gettext as _

from tooling.words.lines import part_in
from tooling.words.moves import handed_back_with_it


def seen_here(tool: Any, place: Any, loan: Any = None) -> str:
    """That it was seen there, and what does not fit: its home is elsewhere, a part is in it, it is in a mold.

    loan: the one that this has ended.
    """
    summary = tool.summary
    said = [_("Seen: %(tool)s, %(place)s.") % {"tool": tool.code, "place": place.name}]
    if summary.home is not None and summary.home_id != place.pk:
        said.append(_("Its home is %(place)s.") % {"place": summary.home.name})
    if loan is not None:
        said.append(handed_back_with_it(loan.payload.get("person", "")))
    if summary.laid_up_at is not None:
        said += [_("By its history a part is in it."), part_in(summary)]
    if summary.in_mold_of is not None:
        said.append(_("By its history it is in %(mold)s.") % {"mold": summary.in_mold_of.code})
    return " ".join(words for words in said if words)
