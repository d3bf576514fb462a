"""Lifting by hand: what the revised NIOSH lifting equation recommends that one person lifts with two hands at most.

Source: Waters, Putz-Anderson, Garg: Applications Manual for the Revised NIOSH Lifting Equation, DHHS (NIOSH)
Publication 94-110 (1994, revised 9/2021), the metric form. It knows one person and says nothing about two.
The defaults are those of its mildest case: a page asks for each of them and fills in none.
"""

from dataclasses import dataclass
from math import inf, isfinite

LOAD_KG = 23.0
# Where the hands are least strained; a way that is shorter than this one counts as none.
NEAR_CM, KNUCKLE_CM, SHORT_CM = 25.0, 75.0, 25.0
# The method's own ranges (1.3.1, 1.3.2, 1.3.4, 1.3.5). Both heights being within 0 and 175 cm, so is the way between.
FARTHEST_CM, HIGHEST_CM, MOST_TURNED_DEG, LONGEST_HOURS = 63.0, 175.0, 135.0, 8.0
# Less often than once in five minutes counts as that often.
SELDOM = 0.2

# Table 5 of the manual: lifts a minute, then for up to 1, 2 and 8 hours, each with hands below 75 cm and from there.
FREQUENCY = (
    (0.2, 1.00, 1.00, 0.95, 0.95, 0.85, 0.85),
    (0.5, 0.97, 0.97, 0.92, 0.92, 0.81, 0.81),
    (1, 0.94, 0.94, 0.88, 0.88, 0.75, 0.75),
    (2, 0.91, 0.91, 0.84, 0.84, 0.65, 0.65),
    (3, 0.88, 0.88, 0.79, 0.79, 0.55, 0.55),
    (4, 0.84, 0.84, 0.72, 0.72, 0.45, 0.45),
    (5, 0.80, 0.80, 0.60, 0.60, 0.35, 0.35),
    (6, 0.75, 0.75, 0.50, 0.50, 0.27, 0.27),
    (7, 0.70, 0.70, 0.42, 0.42, 0.22, 0.22),
    (8, 0.60, 0.60, 0.35, 0.35, 0.18, 0.18),
    (9, 0.52, 0.52, 0.30, 0.30, 0.00, 0.15),
    (10, 0.45, 0.45, 0.26, 0.26, 0.00, 0.13),
    (11, 0.41, 0.41, 0.00, 0.23, 0.00, 0.00),
    (12, 0.37, 0.37, 0.00, 0.21, 0.00, 0.00),
    (13, 0.00, 0.34, 0.00, 0.00, 0.00, 0.00),
    (14, 0.00, 0.31, 0.00, 0.00, 0.00, 0.00),
    (15, 0.00, 0.28, 0.00, 0.00, 0.00, 0.00),
)
_HOURS = (1.0, 2.0, LONGEST_HOURS)
# Table 7 of the manual: with the hands below 75 cm, and from there.
# Longer or higher than this no grip is better than poor, handles or not (table 6 and figure 4, from memory).
LONGEST_CM, HIGH_CM = 40.0, 30.0
GRIPS = {"good": (1.00, 1.00), "fair": (0.95, 1.00), "poor": (0.90, 0.90)}


class OutsideMethod(ValueError):
    """A lift of which the method says nothing: `code` is reach, height, turn or hours, `value` what was asked."""

    def __init__(self, code: str, value: float, most: float, sentence: str) -> None:
        """Keeps which range it is outside of."""
        super().__init__(f"Outside the method: hoist. {sentence}")
        self.code, self.value, self.most = code, value, most


@dataclass(frozen=True, slots=True)
class Multipliers:
    """What each of the six takes off at one end of the lift, from 1 (nothing) to 0 (all)."""

    horizontal: float
    vertical: float
    distance: float
    asymmetry: float
    frequency: float
    grip: float

    @property
    def kg(self) -> float:
        """What they leave of the load that could be lifted under the best conditions."""
        lower = self.distance * self.asymmetry * self.frequency * self.grip
        return LOAD_KG * self.horizontal * self.vertical * lower


@dataclass(frozen=True, slots=True)
class WeightLimit:
    """What one person should lift at most, in kg: at the start, at the end, and the lower of both."""

    origin: Multipliers
    destination: Multipliers

    @property
    def origin_kg(self) -> float:
        """At the start of the lift."""
        return self.origin.kg

    @property
    def destination_kg(self) -> float:
        """Where it is put down under control."""
        return self.destination.kg

    @property
    def limit_kg(self) -> float:
        """For the whole lift."""
        return min(self.origin_kg, self.destination_kg)

    def index(self, load_kg: float) -> float:
        """The lifting index of a load: above 1 it is more than is recommended; infinite where nothing is."""
        _above(load_kg, "load", "kg", least=0.0)
        if self.limit_kg > 0:
            return load_kg / self.limit_kg
        return inf if load_kg > 0 else 0.0


def recommended_weight_limit(
    horizontal_cm: float,
    origin_cm: float,
    destination_cm: float,
    asymmetry_deg: float = 0,
    lifts_per_min: float = 0.2,
    hours: float = 1,
    grip: str = "fair",
) -> WeightLimit:
    """The most that one person should lift with two hands, at the start and at the end of one lift.

    A reach below 25 cm and a way below 25 cm count as 25 cm, lifts more seldom than one in five minutes as that often,
    as the method has it. Between two rows of its table of frequencies the more frequent one counts: the lower limit.

    Formula: 23 kg · HM · VM · DM · AM · FM · CM with HM = 25 / H, VM = 1 - 0.003 · abs(V - 75), DM = 0.82 + 4.5 / D,
    AM = 1 - 0.0032 · A, FM of table 5, CM of table 7; V is that of the start or of the end.
    Range: 0 < H <= 63 cm, 0 <= V <= 175 cm, D <= 175 cm, 0 <= A <= 135°, at most 8 hours.

    Parameters:
        horizontal_cm [cm]: H, from midway between the ankles to midway between the hands, along the floor; no default.
        origin_cm [cm]: V at the start, hands above the floor.
        destination_cm [cm]: V at the end.
        asymmetry_deg [°]: A, how far the body is turned away from straight ahead.
        lifts_per_min [1/min]: F, how often; above 15 the table leaves nothing.
        hours [h]: for how long such work goes on. Up to 1 holds only where light work follows for 1.2 times as long, up
            to 2 only with 0.3 times (section 1.2, from memory); without such a rest the next longer time counts.
        grip [key]: good, fair or poor.

    Returns:
        [kg] the limit at the start, at the end, the lower of both, and what each multiplier takes off.

    Raises:
        OutsideMethod: outside its range; ValueError: where something is no such number, or the grip is not known.

    Source: DHHS (NIOSH) 94-110 (revised 9/2021), section 1.3, tables 5 and 7; the tables from memory.
    Example: H 25, V from 55 to 145, no turn, 3 a minute for an hour, a fair grip: 23·1·0.94·0.87·1·0.88·0.95 = 15.72.
    """
    _check(horizontal_cm, (origin_cm, destination_cm), asymmetry_deg, lifts_per_min, hours, grip)
    way = max(abs(destination_cm - origin_cm), SHORT_CM)

    def at(height: float) -> Multipliers:
        return Multipliers(
            horizontal=NEAR_CM / max(horizontal_cm, NEAR_CM),
            vertical=1 - 0.003 * abs(height - KNUCKLE_CM),
            distance=0.82 + 4.5 / way,
            asymmetry=1 - 0.0032 * asymmetry_deg,
            frequency=_frequency(lifts_per_min, hours, height),
            grip=GRIPS[grip][height >= KNUCKLE_CM],
        )

    return WeightLimit(at(origin_cm), at(destination_cm))


def _check(reach: float, heights: tuple[float, float], turn: float, often: float, hours: float, grip: str) -> None:
    _above(reach, "reach", "cm")
    _above(turn, "turn", "°", least=0.0)
    _above(often, "number of lifts a minute", "")
    _above(hours, "time", "hours")
    for height in heights:
        _above(height, "height of the hands", "cm", least=0.0)
        _within("height", height, HIGHEST_CM, "The hands are {value} cm above the floor; it goes from 0 to {most} cm.")
    _within("reach", reach, FARTHEST_CM, "The reach is {value} cm; it goes to {most} cm.")
    _within("turn", turn, MOST_TURNED_DEG, "The turn is {value}°; it goes from 0 to {most}°.")
    _within("hours", hours, LONGEST_HOURS, "It goes on for {value} hours; the method goes to {most} hours.")
    if grip not in GRIPS:
        raise ValueError(f"{grip!r} is no grip: it is one of {', '.join(GRIPS)}.")


def _frequency(lifts_per_min: float, hours: float, height: float) -> float:
    column = 1 + 2 * next(n for n, most in enumerate(_HOURS) if hours <= most) + (height >= KNUCKLE_CM)
    return next((row[column] for row in FREQUENCY if max(lifts_per_min, SELDOM) <= row[0]), 0.0)


def _above(value: float, name: str, unit: str, least: float | None = None) -> None:
    if not isfinite(value) or (value <= 0 if least is None else value < least):
        range_ = "above 0" if least is None else f"{least:g} or more"
        raise ValueError(f"The {name} is {value:g} {unit}".rstrip() + f"; it is {range_}.")


def _within(code: str, value: float, most: float, sentence: str) -> None:
    if value > most:
        raise OutsideMethod(code, value, most, sentence.format(value=f"{value:g}", most=f"{most:g}"))
