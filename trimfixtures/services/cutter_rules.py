"""What cannot be said of a cutter or guide bushing, each with a sentence: for the services and the sheet."""

from collections.abc import Mapping
from typing import Any

from django.utils.translation import gettext as _

from tooling.models.fields import plain
from tooling.services.columns import values_of
from trimfixtures.models import Cutter, CutterKind, Feature
from trimfixtures.services import feature_rules

_ABOVE_ZERO = ("nominal_mm", "measured_mm", "look_after_m")


def wrong_with(values: Mapping[str, Any]) -> dict[str, str]:
    """What a cutter cannot say, by column; empty where it can."""
    return {
        name: _("%(number)s is not above zero.") % {"number": f"{plain(values[name]):f}"}
        for name in _ABOVE_ZERO
        if values.get(name) is not None and values[name] <= 0
    }


def wrong_in_cuts(cutter: Cutter, units: str) -> str:
    """Which cut could not be cut any more with the cutter as it stands here, unsaved, and why; "" where all can."""
    role = "cutter" if cutter.kind == CutterKind.CUTTER else "bushing"
    taking = Feature.objects.filter(cutter=cutter.pk) | Feature.objects.filter(bushing=cutter.pk)
    for cut in taking.select_related("mask__tool", "cutter", "bushing").order_by("mask__tool__code", "pk"):
        values = values_of(cut)
        for name in ("cutter", "bushing"):
            if values[name] is not None and values[name].pk == cutter.pk:
                values[name] = cutter
        wrong = feature_rules.wrong_with(values, mask=cut.mask, units=units)
        if wrong:
            text = _("%(tool)s takes it for “%(cut)s”: %(why)s")
            why = wrong.get(role) or next(iter(wrong.values()))
            return text % {"tool": cut.mask.tool.code, "cut": cut, "why": why}
    return ""
