"""Why a tool of a part's tool set may not be used, and what mends it: whole sentences."""

from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from tooling.models import Hand
from tooling.words.counting import capital
from tooling.words.places import found_at


def not_confirmed(part: str, revision: str) -> str:
    """Taken over from an older revision."""
    said = {"part": part, "revision": revision}
    if not revision:
        return _("Not confirmed for %(part)s.") % said
    return _("Not confirmed for revision %(revision)s of %(part)s.") % said


def confirm_it() -> str:
    """What mends that."""
    return _("A lead confirms it in the tool set, or takes it out there.")


def half_missing(halves: list[str], part: str) -> str:
    """The other halves stand in no set with it."""
    text = _("It closes on one part with %(halves)s, missing from the tool set of %(part)s.")
    return text % {"halves": ", ".join(halves), "part": part}


def add_half(halves: list[str]) -> str:
    """What mends that."""
    return _("Put %(halves)s into the tool set as well.") % {"halves": ", ".join(halves)}


def half_replaced(half: str, other: str) -> str:
    """Another mold is used for its half, and does not close with it."""
    return _("It closes on one part with %(half)s, not with %(other)s.") % {"half": half, "other": other}


def stand_in_whole() -> str:
    """What mends that."""
    return _("A lead lets halves that close on one part stand in together, in the tool set.")


def half_out_of_use(halves: list[str]) -> str:
    """No other half is in use."""
    return _("Its other half is out of use: %(halves)s.") % {"halves": ", ".join(halves)}


def make_half() -> str:
    """What mends that."""
    return _("Make the other half anew or bring it back, or take this one out of its matched set.")


def insert_missing(mold: str, other: str) -> str:
    """other: the code of the mold that it is in instead; "" where it is in none."""
    if other:
        return _("It is in %(other)s, not in %(mold)s.") % {"other": other, "mold": mold}
    return _("It is not in %(mold)s.") % {"mold": mold}


def move_over(mold: str, other: str) -> str:
    """What mends that where it has to come out first."""
    return _("Take it out of %(other)s, and put it into %(mold)s.") % {"other": other, "mold": mold}


def insert_elsewhere(other: str, part: str) -> str:
    """In a mold that is none of the set."""
    return _("It is in %(other)s, where %(part)s is not made.") % {"other": other, "part": part}


def take_out_of(other: str) -> str:
    """What mends that."""
    return _("Take it out of %(other)s.") % {"other": other}


def wrong_hand(tool: str, hand: str, mold: str) -> str:
    """A tool of one hand with a mold of the other."""
    said = {"tool": tool, "hand": Hand(hand).label, "mold": mold}
    return _("%(tool)s is %(hand)s, and %(mold)s is not.") % said


def other_hand() -> str:
    """What mends that."""
    return _("Use the one of the other hand.")


def lent(where: object) -> str:
    """To whom and until when."""
    said = found_at(where)
    return capital(said) + "."


def bring_back() -> str:
    """What mends that."""
    return _("Have it back, and write down that it is.")


def place_unknown() -> str:
    """Somebody looked for it."""
    return _("Nobody knows where it is.")


def find_it() -> str:
    """What mends that."""
    return _("Find it, and write down where it lies.")


def not_home(place: str, home: str) -> str:
    """Elsewhere, and where."""
    return _("Not home: it is at %(place)s, its home is %(home)s.") % {"place": place, "home": home}


def look_over_wanted(left: int | None, late: bool, *, of_cuts: bool = False) -> str:
    """Pulls, days, or both have passed. of_cuts: parts that were cut against a trim mask are counted."""
    if left is not None and left < 0:
        if of_cuts:
            said = ngettext("%(n)d part", "%(n)d parts", -left)
        else:
            said = ngettext("%(n)d pull", "%(n)d pulls", -left)
        return _("A look-over is wanted since %(since)s.") % {"since": said % {"n": -left}}
    if late and left is not None and left > 0:
        return _("A look-over is wanted: its days are up.")
    return _("A look-over is wanted.")


def look_at_it() -> str:
    """What mends that."""
    return _("Look it over, and write down whether it passed.")
