"""How far a cut comes off by what was measured, within what it may, which of its tools puts it there, what mends that.

What is drilled has a diameter, and is judged by it; what is guided along the trim mask is judged at its edge.
"""

from typing import Any

from django.utils.translation import gettext as _

from tooling.words.sizes import closely, given
from trimfixtures.models import Method

# Below this no reader's unit shows a difference.
NOTHING_MM = 0.0005


def off_by(cut: Any, units: str) -> str:
    """Ø 0.08 mm over size, 0.1 mm too deep, or 0.1 mm left outside the line; "" where nothing is off, or known."""
    if cut.fit is None or abs(cut.fit.error) < NOTHING_MM:
        return ""
    if cut.over_mm is not None:
        size = {"size": closely(abs(cut.over_mm), units)}
        return _("Ø %(size)s over size") % size if cut.over_mm > 0 else _("Ø %(size)s under size") % size
    size = {"size": closely(abs(cut.fit.error), units)}
    return _("%(size)s left outside the line") % size if cut.fit.error > 0 else _("%(size)s too deep") % size


def tolerance(feature: Any, units: str) -> str:
    """± 0.05 mm; of what is cut inside an opening each of its edges may be so far off: ± 0.5 mm at each edge."""
    size = given(feature, "tolerance_mm", units)
    if size and feature.is_inside and feature.method != Method.DRILL:
        return _("± %(size)s at each edge") % {"size": size}
    return f"± {size}" if size else ""


def parts(cut: Any) -> list[tuple[str, str, float]]:
    """What a cut is made with, by its column and in words, and how far each puts its edge off."""
    feature = cut.feature
    return [
        ("opening", _("opening"), cut.fit.from_opening),
        ("bushing", guide_of(feature), cut.fit.from_bushing),
        ("cutter", turns(feature), cut.fit.from_cutter),
    ]


def culprits(cut: Any) -> list[str]:
    """The columns of what puts it off the way it is off: most of all, or half as much as that."""
    that_way = {name: abs(far) for name, _words, far in parts(cut) if far * cut.fit.error > 0}
    return [name for name, far in that_way.items() if 2 * far >= max(that_way.values())]


def guide_of(feature: Any) -> str:
    """What runs along the trim mask."""
    return _("bearing") if feature.method == Method.BEARING else _("guide bushing")


def turns(feature: Any) -> str:
    """What the cutter is called."""
    return _("drill") if feature.method == Method.DRILL else _("cutter")


def mends(name: str, feature: Any) -> str:
    """What mends it, by the column of what is off."""
    if name == "opening":
        return _("Measure the opening of the trim mask again, and mend it, before anything is cut.")
    if name == "bushing" and feature.method == Method.BEARING:
        return _("Take a bearing that measures true, and write down what it measures.")
    if name == "bushing":
        return _("Take a guide bushing that measures true, and write down what it measures.")
    if feature.method == Method.DRILL:
        return _("Take a drill or reamer that measures true, and write down what it measures.")
    return _("Take a cutter that measures true, and write down what it measures.")
