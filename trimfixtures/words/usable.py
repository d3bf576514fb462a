"""Why a trim mask may not be used, what to know before it is, and what mends each: whole sentences."""

from collections.abc import Sequence
from datetime import date, datetime, tzinfo

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy, ngettext

from tooling.words.when import day, when

# How the history says what stood against a use that happened all the same.
AGAINST = {
    "check_failed": gettext_lazy("its last check failed"),
    "fit_off": gettext_lazy("a cut out of its tolerance"),
}
_SINCE = {
    "gouged": gettext_lazy("A check of the cut edge is wanted: a cut was gouged since the last."),
    "slipped": gettext_lazy("A check of the cut edge is wanted: it slipped since the last."),
    "off_size": gettext_lazy("A check of the cut edge is wanted: a part came out of size since the last."),
    "failed": gettext_lazy("A check of the cut edge is wanted: the last one failed, and it was freed since."),
    "never": gettext_lazy("A check of the cut edge is wanted: by the record it never had one."),
}


def check_failed(at: datetime, now: datetime, zone: tzinfo) -> str:
    """What was found last was out."""
    return _("Its last check failed, %(when)s.") % {"when": when(at, now, zone)}


def check_again() -> str:
    """What mends that."""
    return _("Mend it and check the cut edge again; then look at it and free it.")


def check_wanted(why: str, uses: int) -> str:
    """By the word of what wants it; uses: parts since the last."""
    if why in _SINCE:
        return str(_SINCE[why])
    text = ngettext(
        "A check of the cut edge is wanted: %(n)d part cut since the last.",
        "A check of the cut edge is wanted: %(n)d parts cut since the last.",
        uses,
    )
    return text % {"n": uses}


def check_it() -> str:
    """What settles that."""
    return _("Check the cut edge.")


def calibration_expired(instrument: str, until: date, today: date) -> str:
    """It had run out when the last check was made."""
    said = {"instrument": instrument, "day": day(until, today)}
    if not instrument:
        return _("The last check was measured with an instrument whose calibration ended %(day)s.") % said
    return _("The last check was measured with %(instrument)s, whose calibration ended %(day)s.") % said


def calibration_unsaid(instrument: str) -> str:
    """Nobody knows whether it had run out."""
    if not instrument:
        return _("The last check was measured, and nobody said with what, nor until when that is calibrated.")
    text = _("The last check was measured with %(instrument)s, and nobody said until when that is calibrated.")
    return text % {"instrument": instrument}


def measure_again() -> str:
    """What settles that."""
    return _("Check the cut edge with one that is in date.")


def cutter_gone(codes: Sequence[str]) -> str:
    """Cutters that a cut needs."""
    text = ngettext("Its cutter %(codes)s is gone.", "Its cutters %(codes)s are gone.", len(codes))
    return text % {"codes": ", ".join(codes)}


def bushing_gone(codes: Sequence[str]) -> str:
    """Guide bushings that a cut needs."""
    text = ngettext("Its guide bushing %(codes)s is gone.", "Its guide bushings %(codes)s are gone.", len(codes))
    return text % {"codes": ", ".join(codes)}


def get_one(count: int) -> str:
    """What mends that."""
    return ngettext("Get one.", "Get them.", count)


def cutter_worn(codes: Sequence[str]) -> str:
    """Cutters or guide bushings that somebody called worn."""
    text = ngettext("%(codes)s is worn.", "%(codes)s are worn.", len(codes))
    return text % {"codes": ", ".join(codes)}


def fresh_one(count: int) -> str:
    """What mends that."""
    return ngettext("Take a fresh one.", "Take fresh ones.", count)


def not_described() -> str:
    """Nothing is known of it but that it is there."""
    return _("Nobody has said how it sits, nor its cuts.")


def describe_it() -> str:
    """What mends that."""
    return _("A lead writes it down.")


def fit_off(cut: str, off: str, tolerance: str) -> str:
    """A cut that comes further off than it may, by what its cutter, bushing and opening measure."""
    said = {"cut": cut, "off": off, "tolerance": tolerance}
    return _("%(cut)s: %(off)s by what was measured; tolerance %(tolerance)s.") % said
