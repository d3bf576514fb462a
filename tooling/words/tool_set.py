"""A tool set in words: what it lacks as a whole, and why one of several alternatives is offered first."""

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy, ngettext

from tooling.words.counting import capital
from tooling.words.status import Sentence


def no_set() -> str:
    """Nobody has written one down."""
    return _("No tool set is written down for this revision.")


def no_mold() -> str:
    """Nothing to lay it up in."""
    return _("No mold stands in this tool set.")


def no_place() -> str:
    """Hardware lies where the shop keeps it."""
    return _("no place is written down")


def first_usable(first: str, others: list[str]) -> str:
    """The others may not be used now."""
    text = ngettext(
        "%(first)s may be used now, %(others)s not.", "%(first)s may be used now; not %(others)s.", len(others)
    )
    return text % {"first": first, "others": ", ".join(others)}


def first_more_pulls(first: str, pulls: int, others: list[str]) -> str:
    """All may be used; the coat of this one lasts longest."""
    text = ngettext(
        "%(first)s has %(n)d pull left, more than %(others)s.",
        "%(first)s has %(n)d pulls left, more than %(others)s.",
        pulls,
    )
    return text % {"first": first, "n": pulls, "others": ", ".join(others)}


def first_in_mold(first: str, mold: str) -> str:
    """It is where it is needed already."""
    return _("%(first)s is in %(mold)s already.") % {"first": first, "mold": mold}


def first_closes(first: str, halves: list[str]) -> str:
    """Its other halves are used already."""
    return _("%(first)s closes on one part with %(halves)s.") % {"first": first, "halves": ", ".join(halves)}


def first_of_hand(first: str) -> str:
    """What is used with the others is of the other hand."""
    return _("%(first)s is of the hand of what is used with it.") % {"first": first}


def first_fewer_reasons(first: str, count: int, others: list[str]) -> str:
    """None may be used; less stands against this one."""
    text = ngettext(
        "None may be used now; against %(first)s stands %(n)d reason, against %(others)s more.",
        "None may be used now; against %(first)s stand %(n)d reasons, against %(others)s more.",
        count,
    )
    return text % {"first": first, "n": count, "others": ", ".join(others)}


def first_nearer(first: str) -> str:
    """None may be used; what stands against this one weighs less."""
    return _("None may be used now; what stands against %(first)s is mended more easily.") % {"first": first}


def alike(first: str) -> str:
    """Nothing tells them apart but the order of the set."""
    return _("They stand alike; %(first)s comes first in the set.") % {"first": first}


# Headings, in the order in which a set is said.
SET_ROLES = {
    "mold": gettext_lazy("Molds"),
    "insert": gettext_lazy("Mold inserts"),
    "trim_mask": gettext_lazy("Trim masks"),
    "hardware": gettext_lazy("Hardware"),
}


def came_in(codes: list[str]) -> str:
    """DECK-1 is in the set; it comes with DECK-1B, since both close on one part."""
    first, others = codes[0], codes[1:]
    if not others:
        return _("%(tool)s is in the set.") % {"tool": first}
    text = _("%(tool)s is in the set. It comes with %(others)s: they close on one part.")
    return text % {"tool": first, "others": ", ".join(others)}


def still_made(code: str) -> str:
    """A tool that cannot be used yet."""
    return _("%(tool)s is still in the making.") % {"tool": code}


def never_in(code: str, molds: list[str]) -> str:
    """A mold insert that no history puts into a mold of the set."""
    return _("%(tool)s was never in %(molds)s, by the record.") % {"tool": code, "molds": ", ".join(molds)}


def left(codes: list[str]) -> str:
    """DECK-1 and its half are out of the set."""
    text = ngettext("%(tools)s is out of the set.", "%(tools)s are out of the set.", len(codes))
    return text % {"tools": ", ".join(codes)}


def not_there() -> str:
    """Somebody was quicker."""
    return _("That line is not in this set any more. The set as it stands now is below.")


def headings(role: str, count: int) -> str:
    """What stands above the lines of a role, where there may be a single one."""
    one = {"mold": _("Mold"), "insert": _("Mold insert"), "trim_mask": _("Trim mask")}
    return one[role] if count == 1 and role in one else str(SET_ROLES[role])


def fine(said: Sentence, status: str) -> str:
    """How a tool stands that may be used, behind that word: 2 pulls left, then wax."""
    return f"{capital(said.tail)}." if status == "ready" else said.whole


def beside_role(role: str) -> str:
    """What usable does not say of the tools of a role: a trim mask is judged by its record alone."""
    if role != "trim_mask":
        return ""
    return _(
        "Usable says of a trim mask that nothing in its record stops it: not held, retired, lent or lost, no failed "
        "check, no cut out of tolerance by what was measured. Look at it before the cut."
    )


def through(codes: list[str]) -> str:
    """A mold that is stopped by what is in it, which says more at its own line."""
    text = ngettext(
        "%(codes)s, which is in it, may not be used.", "%(codes)s, which are in it, may not be used.", len(codes)
    )
    return text % {"codes": ", ".join(codes)}


def own_pulls(part: str, pulls: int | None) -> str:
    """A part with a number of pulls of its own on a tool; "" where it has none."""
    if pulls is None:
        return ""
    text = ngettext("For %(part)s %(n)d pull after a coat.", "For %(part)s %(n)d pulls after a coat.", pulls)
    return text % {"part": part, "n": pulls}
