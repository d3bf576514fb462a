"""What the morning board says of tools that were brought back and wait to be accepted: with formal records alone."""

from tooling.models import Entry, Summary
from tooling.selectors.board import MOST
from tooling.selectors.board_more import MoreRows, Morning
from tooling.selectors.paging import COUNTED
from tooling.selectors.rows import rows, shown
from tooling.words import to_accept as words
from tooling.words.lines import Around


def to_accept(morning: Morning) -> MoreRows | None:
    """Those that nobody holds besides; what is held stands among the held."""
    if morning.shop.formal_since is None:
        return None
    found = Summary.objects.filter(accept_again=True, retired=False, held_since=None).order_by("tool")
    keys = list(found.values_list("tool", flat=True)[: COUNTED + 1])
    if not keys:
        return None
    back = Entry.objects.filter(tool__in=keys[:MOST], kind="reinstated").standing().order_by("at", "pk")
    since = dict(back.values_list("tool", "at"))
    around = Around(morning.at, morning.shop.zone)
    made = sorted(rows(shown().at(morning.at).filter(tool__in=keys[:MOST]), morning.at), key=lambda row: row.tool.code)
    lines = [words.row(one, since.get(one.tool.pk), around, lead=morning.lead) for one in made]
    return MoreRows(words.TO_ACCEPT, lines, words.opening(len(keys)), len(keys[MOST:]))
