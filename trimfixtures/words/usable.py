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


def fit_off(cut: str, error: str, tolerance: str, *, deep: bool) -> str:
    """A cut that comes further off its line than it may, by what its cutter, bushing and opening measure."""
    said = {"cut": cut, "error": error, "tolerance": tolerance}
    if deep:
        return _("%(cut)s comes %(error)s too deep by what was measured; its tolerance is %(tolerance)s.") % said
    return _("%(cut)s comes %(error)s outside its line by what was measured; its tolerance is %(tolerance)s.") % said


def take_true_ones() -> str:
    """What mends that."""
    return _("Take a cutter and a guide bushing that measure true, and write down what they measure.")
