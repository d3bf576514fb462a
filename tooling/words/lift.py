"""The method for a lift in words: what it recommends, how that came about, and what it knows nothing of."""

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy as _later
from django.utils.translation import ngettext

from shared.units import from_si, unit_of
from tooling.calc.handling import LOAD_KG, SELDOM, Multipliers, OutsideMethod, WeightLimit
from tooling.models.fields import plain
from tooling.words.measures import measure

TURNED_FURTHER = 180.0
TURNS = (
    ("0", _later("straight ahead")),
    ("15", "15°"),
    ("30", "30°"),
    ("45", _later("45°, half a quarter turn")),
    ("60", "60°"),
    ("90", _later("90°, a quarter turn")),
    ("135", "135°"),
    ("further", _later("further than that")),
)
# The method counts a time as short only where a rest follows it; section 1.2, from memory.
HOURS = (
    ("1", _later("an hour at most, with its rest")),
    ("2", _later("two hours at most, with its rest")),
    ("8", _later("longer, or without that rest")),
)
REST = _later(
    "Its rest is light work: after an hour for 1.2 times as long, after two hours for 0.3 times as long. Without it "
    "the longer time counts, up to eight hours."
)
GRIPS = {
    "good": _later("good: handles, or fingers right around it"),
    "fair": _later("fair: fingers bent under an edge"),
    "poor": _later("poor: all else"),
}
POOR = _later(
    "Poor is all that is longer than 40 cm (16 in) or higher than 30 cm (12 in), lopsided, sharp or slippery, or held "
    "with gloves on."
)
BULKY = _later(
    "By its sizes the method knows no better grip of it. What two hands cannot hold level is outside the method."
)
SOURCE = _later(
    "Source: revised NIOSH lifting equation, DHHS (NIOSH) Publication 94-110, revised 9/2021, in its metric form; "
    "its tables from memory. 23 kg is what it starts from under the best conditions."
)
# Section 1.2 of the same, from memory.
LIMITS = (
    _later(
        "For one person who stands free on a dry floor that does not slip, and lifts smoothly, not fast, with two "
        "hands that share the load evenly."
    ),
    _later("Not for one hand, wet or waxed hands, seated, kneeling or in a narrow space."),
    _later("Not for a load that shifts, nor one that two hands cannot hold level, as a long mold by its middle."),
    _later("Not for carrying, pushing or pulling, and not for a tool that is hot."),
    _later(
        "Not for a hot, cold or damp shop, nor for more than eight hours. An hour counts as one only where light work "
        "follows for 1.2 times as long, two hours only where it follows for 0.3 times as long."
    ),
    _later(
        "“Most healthy people” is what its manual says of an index of 1 or less; it knows neither your back nor an old "
        "injury."
    ),
)
ONE_PERSON = _later(
    "It knows one person. This program computes no lift for two: half a number for each would be wrong."
)


@dataclass(frozen=True, slots=True)
class Answer:
    """The verdict in a few words and in a sentence or two; the working, line by line."""

    head: str
    text: tuple[str, ...]
    working: tuple[str, ...] = ()


def how_often(per_minute: float) -> str:
    """As the table has it: once in five minutes or less, 3 a minute."""
    if per_minute <= SELDOM:
        return _("once in five minutes, or less")
    if per_minute < 1:
        return _("once in two minutes")
    return ngettext("once a minute", "%(n)d times a minute", int(per_minute)) % {"n": int(per_minute)}


def outside(no: OutsideMethod, units: str) -> Answer:
    """A lift of which the method says nothing."""
    length = {name: measure(Decimal(str(value)) * 10, "mm", units) for name, value in _values(no)}
    text = {
        "reach": _("The reach is %(value)s; the method ends at %(most)s."),
        "height": _("The hands are %(value)s above the floor; the method ends at %(most)s."),
    }.get(no.code, _("The body is turned further than 135°, where the method ends.")) % length
    return Answer(_("Outside the method: hoist."), (text,))


def _values(no: OutsideMethod) -> tuple[tuple[str, float], ...]:
    return (("value", no.value), ("most", no.most))


def answer(limit: WeightLimit, lifted: Any, units: str, hands_cm: tuple[float, float]) -> Answer:
    """What is lifted (`selectors.lift.Lifted`) beside what the method recommends, hands from there to there."""
    said = {"limit": _mass(limit.limit_kg, units), "load": _of(lifted, units)}
    recommended = _("For one person and two hands the method recommends at most %(limit)s here.") % said
    working = tuple(_working(limit, units))
    if limit.limit_kg <= 0:
        nothing = _("So often, and for so long, the method leaves nothing to lift by hand.")
        return Answer(_("Not by hand: hoist."), (nothing,), working)
    index = limit.index(float(lifted.kg))
    if index > 1:
        head = _more_than_one(lifted.tool)
    elif lifted.is_whole:
        head = _("Within what the method recommends.")
    else:
        head = _("Nobody knows: it is not all weighed.")
    text = (recommended, *_load(lifted, index, said), _hands(hands_cm, units))
    return Answer(head, text, working)


def _more_than_one(tool: Any) -> str:
    """The shop's own words stand above: only where there are none it says how."""
    if tool.lift:
        return _("More than the method recommends for one person.")
    return _("Too much for one person: hoist.")


def _load(lifted: Any, index: float, said: dict[str, str]) -> Iterator[str]:
    if lifted.kg:
        times = {**said, "times": f"{index:.2f}" if index < 10 else f"{index:.0f}"}
        yield _("%(load)s: %(times)s times that, its lifting index.") % times
    if lifted.unweighed:
        yield _("Without a mass: %(codes)s. Weigh it first.") % {"codes": ", ".join(lifted.unweighed)}
    if lifted.part_in:
        yield _("A part is in it, which weighs as well.")
    if index > 1 and lifted.tool.lift:
        own = _("The shop’s own words: %(words)s. Where they leave it to one person, ask the lead first, or hoist.")
        yield own % {"words": lifted.tool.lift.rstrip(".")}


def _hands(heights: tuple[float, float], units: str) -> str:
    first, last = (measure(Decimal(str(height)) * 10, "mm", units) for height in heights)
    return _("Hands above the floor: %(first)s, then %(last)s.") % {"first": first, "last": last}


def _of(lifted: Any, units: str) -> str:
    """BR-1 weighs 12 kg; at least 12 kg with its mold inserts"""
    own = lifted.tool.as_typed.get("mass_kg") if len(lifted.together) == 1 else None
    mass = str(measure(lifted.kg, "kg", units, own))
    words = {"code": lifted.tool.code, "mass": mass}
    if len(lifted.together) == 1:
        return _("%(code)s weighs %(mass)s") % words
    if lifted.unweighed:
        return _("%(code)s weighs at least %(mass)s with the mold inserts in it") % words
    return _("%(code)s weighs %(mass)s with the mold inserts in it") % words


def _mass(kg: float, units: str) -> str:
    """To a tenth of the reader's unit, downwards: a limit is not rounded up."""
    unit = unit_of("kg", units)
    number = Decimal(str(float(from_si(Decimal(str(kg)), unit)))).quantize(Decimal("0.1"), "ROUND_DOWN")
    return f"{plain(number):f} {unit.symbol}"


def _working(limit: WeightLimit, units: str) -> Iterator[str]:
    for end, of in ((_("Where it is lifted"), limit.origin), (_("Where it is put down"), limit.destination)):
        said = {"end": end, "product": _product(of, units), "mass": _mass(of.kg, units)}
        yield _("%(end)s: %(product)s = %(mass)s.") % said
    yield _("The lower of both counts.")


def _product(of: Multipliers, units: str) -> str:
    """23 kg × 0.625 (reach) × ...; a reader of pounds gets both."""
    factors = (
        (_("reach"), of.horizontal),
        (_("height"), of.vertical),
        (_("way"), of.distance),
        (_("turn"), of.asymmetry),
        (_("how often"), of.frequency),
        (_("grip"), of.grip),
    )
    begins, source = _mass(LOAD_KG, units), f"{LOAD_KG:g} kg"
    first = begins if begins == source else f"{begins} ({source})"
    return " × ".join((first, *(f"{value:.3f} ({name})" for name, value in factors)))
