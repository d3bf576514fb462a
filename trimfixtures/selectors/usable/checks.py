"""The check of the cut edge: failed, wanted, or made with an instrument whose calibration had run out."""

from collections.abc import Iterator

from tooling.models import Tool
from tooling.selectors.usable.asked import Asked
from tooling.selectors.usable.reason import LEAD, Reason
from tooling.words.deeds import CHECK_EDGE
from trimfixtures.selectors.checks import Checked
from trimfixtures.selectors.usable.read import checks_of
from trimfixtures.words import usable as words


def reasons(asked: Asked) -> Iterator[tuple[int, Reason]]:
    """Of each trim mask. A failed check stops it until one passes, or somebody looks at it and frees it."""
    found = checks_of(asked)
    for tool in asked.tools:
        if tool.pk in found:
            yield from ((tool.pk, one) for one in _of_one(asked, tool, found[tool.pk]))


def _of_one(asked: Asked, tool: Tool, checked: Checked) -> Iterator[Reason]:
    zone = asked.shop.zone
    if checked.failed and checked.last is not None:
        text = words.check_failed(checked.last.at, asked.at, zone)
        yield Reason("check_failed", tool.code, text, words.check_again(), CHECK_EDGE, override=LEAD)
    elif checked.wanted:
        text = words.check_wanted(checked.wanted, checked.uses_since)
        yield Reason("check_wanted", tool.code, text, words.check_it(), CHECK_EDGE, stops=False)
    last = checked.last
    if last is not None and last.calibrated_until is not None and last.expired(zone):
        text = words.calibration_expired(last.instrument, last.calibrated_until, asked.at.astimezone(zone).date())
        yield Reason("calibration_expired", tool.code, text, words.measure_again(), CHECK_EDGE, stops=False)
    elif last is not None and last.calibration_unsaid:
        text = words.calibration_unsaid(last.instrument)
        yield Reason("calibration_unsaid", tool.code, text, words.measure_again(), CHECK_EDGE, stops=False)
