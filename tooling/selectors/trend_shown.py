"""A series of readings as its picture shows it, in the units of whoever reads it."""

from collections.abc import Iterator, Sequence

from tooling.calc.trend import Crossing, Line
from tooling.drawing.trend import Mark, Meets, Trend
from tooling.selectors.readings import Segment, Series
from tooling.words import trends as words

# A line may be followed only where the verdict on it says so.
_FOLLOWED = ("reaches", "not_before")


def trend_of(series: Series, kind: str, units: str, told: str) -> Trend:
    """kind: of the tool. told: what the picture says, in a sentence."""
    is_followed = series.crossing is not None and series.crossing.verdict in _FOLLOWED
    return Trend(
        title=words.named(series),
        told=told,
        unit=words.symbol(series.unit, units),
        along=words.along(kind),
        now=series.now,
        current=_marks(series.current, series.unit, units),
        earlier=[_marks(one, series.unit, units) for one in series.segments[:-1]],
        works=list(_works(series.segments)),
        limit=words.in_units(series.limit.value, series.unit, units) if series.limit is not None else None,
        limit_said=words.limit_said(series, units),
        worse=series.limit.row.worse if series.limit is not None else "up",
        line=_line(series.line, series.unit, units) if is_followed and series.line is not None else None,
        meets=_meets(series.crossing),
    )


def _line(line: Line, unit: str, units: str) -> tuple[float, float]:
    """Intercept and slope in the reader's unit."""
    first, second = (words.in_units(line.intercept + line.slope * x, unit, units) for x in (0.0, 1.0))
    return first, second - first


def _meets(crossing: Crossing | None) -> Meets | None:
    if crossing is None or crossing.verdict != "reaches":
        return None
    if crossing.at is None or crossing.early is None or crossing.late is None:
        return None
    return Meets(crossing.at, crossing.early, crossing.late)


def _marks(segment: Segment, unit: str, units: str) -> list[Mark]:
    return [
        Mark(one.pulls, *(words.in_units(value, unit, units) for value in (one.mean, one.low, one.high)))
        for one in segment.visits
    ]


def _works(segments: Sequence[Segment]) -> Iterator[tuple[float, str]]:
    """Not the work that the first segment follows: there is no visit before it."""
    for one in segments[1:]:
        if one.begun is not None:
            yield one.pulls, words.done(one.begun.kind)
