"""Why a surface cannot be used as it is, and what would mend it."""

from collections.abc import Iterable

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy
from django.utils.translation import pgettext_lazy as in_context

from tooling.calc.status import Need
from tooling.words.counting import missing_coats

# One table a status: the same code means another thing in another status (a pull that holds, or asks for a coat).
WHY = {
    "held": {
        "came_off": gettext_lazy("a part came off too badly"),
        "tool_damaged": gettext_lazy("it was marked at a pull"),
        "inspection_failed": gettext_lazy("it did not pass when it was looked at"),
        "hold": gettext_lazy("somebody stopped it"),
        "reinstated": gettext_lazy("reinstated, and not looked at yet"),
    },
    "needs_strip": {
        "strip_came_off": gettext_lazy("a part came off too hard"),
        "strip_foreign_coat": gettext_lazy("a coat of another recipe went on"),
        "strip_release_system": gettext_lazy("the recipe was changed over an old coat"),
        "strip_sealer": gettext_lazy("sealer and coats went on in the wrong order"),
        "idle_long": gettext_lazy("it was idle too long for a touch-up"),
        "build_up": gettext_lazy("build-up seen"),
        "touch_ups": gettext_lazy("it has had all its touch-ups"),
        "pulls_since_preparation": gettext_lazy("it has had all its pulls since the preparation"),
    },
    "needs_touch_up": {
        "came_off": gettext_lazy("it came off hard"),
        "idle": gettext_lazy("it was idle too long"),
        "coat_age": gettext_lazy("the coat is too old"),
        "spot_bare": gettext_lazy("a part of the surface was laid bare"),
        "release_check": gettext_lazy("the tape or water test failed"),
        "wax_wanted": gettext_lazy("somebody asked for it"),
        "abandoned": gettext_lazy("a lay-up was given up in it"),
        "count": gettext_lazy("its pulls are done"),
        "count_unknown": gettext_lazy("nobody knows how many pulls it has had"),
        "unfinished": in_context("coats of a touch-up", "the coats begun are not finished"),
    },
    "not_prepared": {
        "no_release_system": gettext_lazy("no release recipe is chosen"),
    },
}


def reason(status: str, code: str) -> str:
    """One reason, as a part of a sentence."""
    return str(WHY[status][code])


def reasons(status: str, codes: Iterable[str]) -> list[str]:
    """All reasons of a status, in their order."""
    return [reason(status, code) for code in codes]


def mend(status: str, why: Iterable[str], need: Need | None, until: str = "") -> str:
    """What would make it usable, as a whole sentence; "" where it is. `until` is said where one only has to wait."""
    coats = missing_coats(need.sealer, need.coat) if need else ""
    wait = _("Wait until %(time)s.") % {"time": until}
    if status == "not_prepared" and "no_release_system" in why:
        return _("Choose its release recipe.")
    return {
        "retired": _("It is reinstated first, and looked at."),
        "held": _("Somebody has to look at it; it is freed only if it passes."),
        "part_in_mold": _("Pull the part first."),
        "needs_strip": _("Strip it to bare, then put on %(coats)s.") % {"coats": coats},
        "not_prepared": _("Put on %(coats)s.") % {"coats": coats},
        "preparing": _("Put on %(coats)s more.") % {"coats": coats},
        "needs_touch_up": _("Put on %(coats)s.") % {"coats": coats},
        "curing": wait,
        "needs_film": _("Put a film on, and let it dry."),
        "film_drying": wait,
    }.get(status, "")
