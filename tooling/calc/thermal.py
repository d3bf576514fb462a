"""Heat: how hot a part gets against what its tool stands."""

from dataclasses import dataclass
from math import isfinite

ABSOLUTE_ZERO_C = -273.15
# A rule for parts in wet service (from memory of MIL-HDBK-17-1F 2.2.8); the handbook's worked material keeps 60 °F dry
# and 74 °F wet (MIL-HDBK-17-2F 6.2.1). Shown as a note, never a gate.
WET_MARGIN_C = 28.0

WITHIN, BEYOND, WARNING, UNKNOWN = "within", "beyond", "warning", "unknown"


@dataclass(frozen=True, slots=True)
class ServiceMargin:
    """How far a part's heat stays below what decides, in °C; below 0 where it is hotter. `wet_rule`: as a note."""

    limit_c: float | None
    margin_c: float | None
    verdict: str
    wet_margin_c: float | None
    wet_rule: bool | None


def service_margin(
    peak_c: float,
    max_service_c: float | None = None,
    glass_transition_c: float | None = None,
    wet_glass_transition_c: float | None = None,
) -> ServiceMargin:
    """The heat of a part against what a tool stands.

    The maker's highest service temperature decides where it is known: exactly the limit is within. Without it a glass
    transition is looked at, the lowest that is known: above it is a warning, never a gate.

    Margin: limit_c - peak_c. Wet rule: wet_glass_transition_c - peak_c >= 28 °C.

    Parameters:
        peak_c [°C]: how hot the part gets.
        max_service_c [°C]: the maker's highest service temperature; None where it is not known.
        glass_transition_c [°C]: of the tool's resin, dry; None where it is not known.
        wet_glass_transition_c [°C]: of the tool's resin, wet; None where it is not known.

    Returns:
        [-] limit and margin in °C (None where nothing is known), the verdict (within, beyond, warning, unknown), and
        the margin below the wet glass transition with whether it keeps the rule for wet service.

    Raises:
        ValueError: where a temperature is no number, or below absolute zero.

    Source: the maker's limit decides (the house's own rule); the wet rule as WET_MARGIN_C says.
    """
    for name, value in (
        ("peak", peak_c),
        ("highest service temperature", max_service_c),
        ("glass transition", glass_transition_c),
        ("wet glass transition", wet_glass_transition_c),
    ):
        if value is not None and not (isfinite(value) and value >= ABSOLUTE_ZERO_C):
            raise ValueError(f"The {name} is {value} °C; it goes from {ABSOLUTE_ZERO_C} °C upwards.")
    glass = min((one for one in (glass_transition_c, wet_glass_transition_c) if one is not None), default=None)
    limit = max_service_c if max_service_c is not None else glass
    margin = None if limit is None else limit - peak_c
    wet = None if wet_glass_transition_c is None else wet_glass_transition_c - peak_c
    return ServiceMargin(
        limit_c=limit,
        margin_c=margin,
        verdict=_verdict(margin, max_service_c is not None),
        wet_margin_c=wet,
        wet_rule=None if wet is None else wet >= WET_MARGIN_C,
    )


def _verdict(margin: float | None, by_the_maker: bool) -> str:
    if margin is None:
        return UNKNOWN
    if margin >= 0:
        return WITHIN
    return BEYOND if by_the_maker else WARNING
