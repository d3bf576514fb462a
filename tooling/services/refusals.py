"""What `calc` refuses, said as a sentence that tells what to change."""

from collections.abc import Sequence
from difflib import get_close_matches

from django.utils.translation import gettext as _
from django.utils.translation import gettext_noop as noop

from shared.errors import Refused
from tooling.calc.check import Refusal

_LONGEST_WORD = 40  # a longer one is no slip of typing

_SENTENCES = {
    "unknown_kind": noop("“%(word)s” is no entry that a history knows. One of: %(words)s."),
    "no_zone": noop("This time has no time zone."),
    "future": noop("This lies in the future. Write down what has happened, when it has."),
    "count_range": noop("The count is %(count)s; it goes from %(least)s to %(most)s."),
    "unknown_word": noop("“%(word)s” is not one of: %(words)s."),
    "came_off_on_other": noop("Only a pull says how it came off. Leave this empty here."),
    "passed_missing": noop("Say whether it passed: yes or no."),
    "below_zero": noop("%(number)s is below zero."),
    "too_many": noop("%(number)s is too many: it goes up to %(most)s."),
    "target_missing": noop("There is no such entry in this tool's history."),
    "target_of_other_tool": noop("That entry is in another tool's history. Void or correct it there."),
    "target_is_void": noop("A void cannot be voided or corrected. Write the entry again instead."),
    "target_gone": noop("That entry is void or corrected already."),
    "second_start": noop("This tool has a starting state already. Correct that one instead."),
    "surface_not_reached": noop("It can be the tool itself, or a mold insert that was in it then."),
    "same_system": noop("%(system)s is the release recipe in force then. Choose another one, or leave it."),
    "two_molds": noop("The mold insert would be in two molds at once: it is in %(other)s then. Remove it there first."),
}


def refused(refusal: Refusal) -> Refused:
    """The refusal as the error that screens and commands show."""
    values = {name: _said(value) for name, value in refusal.values.items()}
    said = _(_SENTENCES[refusal.code]) % values
    near = _nearest(refusal.values.get("word"), refusal.values.get("words"))
    return Refused(_("Did you mean %(word)s?") % {"word": near} + f" {said}" if near else said, refusal.field)


def _nearest(word: object, words: object) -> str:
    """The word that was meant, where one of them is like it."""
    if not isinstance(word, str) or len(word) > _LONGEST_WORD or not isinstance(words, Sequence):
        return ""
    return next(iter(get_close_matches(word, words, n=1)), "")


def _said(value: object) -> object:
    return ", ".join(value) if isinstance(value, Sequence) and not isinstance(value, str) else value
