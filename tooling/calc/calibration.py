"""Whether what measured was still calibrated."""

from datetime import date, datetime, tzinfo

from tooling.calc.due import local_date


def is_calibration_over(until: date | None, at: datetime, zone: tzinfo) -> bool:
    """Whether the calibration of what measured had ended on the shop's day of the reading; its last day is good.

    Parameters:
        until [date]: its last day; None where nobody said it.
        at [UTC]: when it measured.
        zone [-]: the shop's time zone.

    Returns:
        [-] whether that day was over.

    Source: the house's own rule.
    """
    return until is not None and local_date(at, zone) > until
