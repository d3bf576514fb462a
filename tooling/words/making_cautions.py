"""The cautions of building a tool: of each work, and in short of all, where nobody has said which. Common practice,
no source; each defers to the supplier's sheet and the local code.
"""

from collections.abc import Iterable
from dataclasses import replace

from django.utils.translation import gettext as _

from tooling.models import Kind
from tooling.words import plug_cautions
from tooling.words.cautions import WARNING, Caution, among_others
from tooling.words.terms import WORKS

# What is warned of together: laminate and gel coat are one, and a skin is thicker.
_SAME = {"gel_coat": "laminate"}
_ORDER = ("machining", "skin", "laminate", "filler", "primer", "sanding", "frame")


def for_making(kind: str, works: Iterable[str], cutting: Caution | None = None) -> tuple[list[Caution], list[Caution]]:
    """Of the work at hand, the first to be read; then of all other work. `cutting`: how a kind is cut, if it is known.

    Where nobody said which work, what all of it needs stands first.
    """
    now = list(dict.fromkeys(_SAME.get(work, work) for work in works if _SAME.get(work, work) in _ORDER))
    other = [of_work(work, kind, cutting) for work in _ORDER if work not in now]
    return [of_work(work, kind, cutting) for work in now] or [of_all()], other


def of_work(work: str, kind: str, cutting: Caution | None = None) -> Caution:
    """Of one work; a plug is milled, anything else is cut by hand."""
    if work == "machining":
        found = cutting or (_milling() if kind == Kind.PLUG else _cut_by_hand())
    elif work == "filler":
        found = next(one for one in plug_cautions.cautions() if one.about == "filling")
    elif work in ("skin", "laminate"):
        found = among_others("lay_up")
        found = _thick(found) if work == "skin" else found
    else:
        found = {"primer": _primer, "sanding": lambda: among_others("sanding"), "frame": _frame}[work]()
    # Folded away, a caution stays so by its key: that of a deed is another one, with other words round it.
    return replace(found, about=f"making_{work}", work=str(WORKS[work]))


def of_all() -> Caution:
    """Milling, filling and sanding in short, and where the rest is."""
    return Caution(
        WARNING,
        _("Cutter: no gloves, eyes, ears. Resin, paint: gloves, eyes, no flame. Dust: respirator."),
        _(
            "A turning cutter or blade: no gloves, guard on, eyes and ears covered, nobody within its reach. Resin, "
            "filler, hardener and paint: gloves, eyes covered, ventilation, no flame; peroxide catalyst blinds, and "
            "what is left in the pot heats itself. Dust: respirator and extraction. Weight: the shop’s own words for "
            "the lift."
        ),
        "making",
        _("Building a tool"),
    )


def _milling() -> Caution:
    return next(one for one in plug_cautions.cautions() if one.about == "milling")


def _cut_by_hand() -> Caution:
    return Caution(
        WARNING,
        _("Clamp; guard on, eyes, ears; no gloves at a turning blade. Dust: respirator."),
        _(
            "Router, saw and grinder: clamp the tool, guard on, eyes and ears covered, no gloves or loose sleeves at "
            "what turns, no hand in line with the blade, plug out before it is changed. Feed a router against its "
            "turn; what comes free is held. Dust of glass and carbon: respirator and extraction, no blowing off, and "
            "carbon’s also conducts. Fresh edges cut: gloves once everything stands still."
        ),
    )


def _thick(lay_up: Caution) -> Caution:
    more = _(
        "A thick skin that is laid at once heats itself, up to smoke, and melts or lights the foam under it: no "
        "thicker at a time than its sheet says, and somebody stays with it."
    )
    short = _("Catalyst blinds: eyes. Resin: gloves, no flame. Thick skins heat up to fire.")
    return replace(lay_up, short=short, text=f"{lay_up.text} {more}")


def _primer() -> Caution:
    return Caution(
        WARNING,
        _("Mist and solvent burn, vapours harm: no flame, ventilation, vapour respirator, eyes."),
        _(
            "Primer, paint and thinner burn, and their mist in a closed room explodes: no flame, no spark, sprayed "
            "only where the shop sprays, ventilation on. Against vapours a dust respirator does nothing: the one "
            "that the sheet names. Hardener with isocyanate can bring asthma for life: air from outside, as its sheet "
            "says. Gloves, eyes and skin covered. Solvent rags go in a closed can; catalysed paint and rags with it "
            "never do. Sanding it: respirator, extraction."
        ),
    )


def _frame() -> Caution:
    return Caution(
        WARNING,
        _("The arc blinds, sparks light dust and vapours; saw and grinder: guard on, eyes, ears."),
        _(
            "Welding and grinding: face and eyes covered, also of those who stand by; no resin, solvent, foam or dust "
            "near, something to put a fire out with, and somebody looks again an hour later. Fumes harm, those of "
            "galvanised or painted steel most: bare metal, ventilation. Steel and glass hold heat. Saw: guard on, no "
            "gloves at a turning blade, no hand in line with it; dust of wood harms and burns: extraction, respirator. "
            "Frame and tool are heavy and tip: chocked, lifted by the shop’s own words. Welding is for those who are "
            "trained for it; where a frame is slung or lifted, the licensed person says what it carries."
        ),
    )
