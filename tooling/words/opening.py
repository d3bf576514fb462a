"""The sentence that opens the morning board: what there is in each group, as links to it."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from tooling.words.counting import capital, in_words


@dataclass(frozen=True, slots=True)
class Clause:
    """Words that lead to a group of the board, and what follows on them."""

    group: str
    words: str
    rest: str = ""


SENTENCES = (("molds",), ("ready", "soon", "coat"), ("making",), ("held", "home"))


def opening(
    counts: dict[str, int],
    *,
    time_is_up: int = 0,
    on_plugs: int = 0,
    molds_only: bool = False,
    counted: int = 1000,
    not_back: int = 0,
    more: Sequence[Clause] = (),
) -> list[list[Clause]]:
    """The sentences, each as its clauses. Groups without a row are left out.

    counts: rows by the name of the group. time_is_up: how many parts may come out now. on_plugs: how many of the parts
    are on plugs. molds_only: whether all that can be laid up are molds. counted: beyond as many nobody counted.
    not_back: how many of those that are not home are lent and not back in time.
    more: the groups of other apps, in a sentence of their own.
    """
    found = [[group for group in groups if counts.get(group)] for groups in SENTENCES]
    said = []
    for groups in filter(None, found):
        rest = {"molds": _rest(counts.get("molds", 0), time_is_up), "home": _not_back(counts.get("home", 0), not_back)}
        clauses = [
            Clause(group, _words(group, counts[group], molds_only, on_plugs, counted), rest.get(group, ""))
            for group in groups
        ]
        clauses[0] = replace(clauses[0], words=capital(clauses[0].words))
        said.append(clauses)
    if more:
        said.append([replace(more[0], words=capital(more[0].words)), *more[1:]])
    return said


def _words(group: str, n: int, molds_only: bool, on_plugs: int, counted: int) -> str:
    if group == "ready" and molds_only:
        text = ngettext("%(n)s mold can be laid up", "%(n)s molds can be laid up", n)
    elif group == "molds" and on_plugs == n:
        text = ngettext("%(n)s molding is on a plug", "%(n)s moldings are on plugs", n)
    elif group == "molds" and on_plugs:
        text = _("%(n)s parts and moldings are in the molds and on the plugs")
    else:
        text = {
            "molds": ngettext("%(n)s part is in the molds", "%(n)s parts are in the molds", n),
            "ready": ngettext("%(n)s tool can be laid up", "%(n)s tools can be laid up", n),
            "soon": ngettext("%(n)s is nearly ready", "%(n)s are nearly ready", n),
            "coat": ngettext("%(n)s wants a coat first", "%(n)s want a coat first", n),
            "making": ngettext("%(n)s tool is in the making", "%(n)s tools are in the making", n),
            "held": ngettext("%(n)s is held", "%(n)s are held", n),
            "home": ngettext("%(n)s is not home", "%(n)s are not home", n),
        }[group]
    return text % {"n": in_words(n) if n <= counted else _("more than %(n)d") % {"n": counted}}


def _rest(parts: int, up: int) -> str:
    if not up:
        return ""
    if up == parts:
        return ngettext(", and its time is up", ", and the time of all is up", up)
    return _(", the time of %(up)s is up") % {"up": in_words(up)}


def _not_back(away: int, late: int) -> str:
    if not late:
        return ""
    if late == away:
        return ngettext(", lent and not back in time", ", all lent and not back in time", late)
    return _(", %(late)s of them lent and not back in time") % {"late": in_words(late)}
