"""A trim mask at work: a part cut against it, and the cut edge checked."""

from collections.abc import Collection
from datetime import date
from decimal import Decimal
from typing import Unpack

from shared.errors import Refused
from tooling.models import Entry, PartRevision, Tool
from tooling.services.deeds.base import Said
from tooling.services.deeds.undo import stands
from tooling.services.deeds.unseen import hold_if_unseen
from tooling.services.deeds.uses import nothing_else_against
from tooling.services.drafts import LeftAlone
from tooling.services.ledger import Unless, record
from tooling.services.trying import together
from trimfixtures.calc.edges import is_out, judge
from trimfixtures.calc.points import read_points
from trimfixtures.calc.refusal import Refusal
from trimfixtures.models import Mask
from trimfixtures.selectors.checking import limit_of
from trimfixtures.words.refusals import refused

_OF_THE_LIMIT = frozenset({"limit_missing", "tolerance_below_zero"})


class _Cut(Said, total=False):
    """What a cut says besides."""

    count: int
    serial: str
    cutter: str
    minutes: Decimal | None
    metres: Decimal | LeftAlone | None
    outcome: str


def trim(
    trim_mask: Tool,
    *,
    part: str = "",
    revision: PartRevision | None = None,
    seen: Collection[str] | None = None,
    **said: Unpack[_Cut],
) -> Entry:
    """A cut as `log_use` takes it, and the hold that goes with it where it was gouged or the cutter slipped: both or
    neither, and the same form again writes neither anew.

    revision: of the part, where it is known; else it is judged by the newest. seen: the keys of what stands against the
    trim mask that are known to who asks; NewlyAgainst, asked under the locks, where there is another by now. None:
    nobody looked beforehand, and nothing is asked.
    """
    about = {"part": part, "revision": revision}
    asked = None if seen is None else nothing_else_against(trim_mask, seen, at=said.get("at"), **about)
    with together():
        return _with_its_hold(log_use(trim_mask, part=part, revision=_name(revision), unless=asked, **said), said)


def _name(revision: PartRevision | None) -> str | LeftAlone:
    """It follows from the serial numbers: a form that comes again says the same, whatever is known of them by then."""
    return LeftAlone(lambda _tool: revision.revision) if revision is not None else ""


def check_edge(
    trim_mask: Tool,
    *,
    points: str,
    limit_mm: Decimal | None = None,
    serial: str = "",
    part: str = "",
    gauge: str = "",
    instrument: str = "",
    calibrated_until: date | None = None,
    **said: Unpack[Said],
) -> Entry:
    """A check as `log_check` takes it; whether it passed follows from what was found. Failed it holds the trim mask in
    the same step, and the same form again writes neither anew.

    limit_mm: what somebody says where the trim mask has no tolerance; else that one counts, as it stands under the
    locks.
    """
    limit = LeftAlone(lambda tool: _limit(tool, points, limit_mm), "" if limit_mm is None else str(limit_mm))
    passed = LeftAlone(lambda tool: did_pass(points, limit.found(tool)))
    with together():
        entry = log_check(
            trim_mask,
            passed=passed,
            serial=serial,
            part=part,
            gauge=gauge,
            points=points,
            limit_mm=limit,
            instrument=instrument,
            calibrated_until=calibrated_until,
            **said,
        )
        return _with_its_hold(entry, said)


def _limit(trim_mask: Tool, points: str, said: Decimal | None) -> Decimal | None:
    """How far off a point may be; None where nothing was measured, or what was found cannot be read."""
    try:
        measured = any(one.deviation is not None for one in read_points(points))
    except Refusal:
        return None
    own = limit_of(Mask.objects.filter(tool=trim_mask).first()) if measured else None
    return own if own is not None else said


def did_pass(points: str, limit_mm: Decimal | None) -> bool:
    """Whether what was found at these points is good; Refused with what to say besides."""
    try:
        return judge(read_points(points), float(limit_mm) if limit_mm is not None else None).passed
    except Refusal as refusal:
        field = "limit_mm" if refusal.code in _OF_THE_LIMIT else "points"
        raise Refused(refused(refusal), field) from refusal


def is_any_out(points: str, limit_mm: Decimal | None) -> bool | None:
    """Whether one of these points is out; None where they do not say it: nothing was found, or measured without a
    limit, as an old record may be. Refused where they cannot be read.
    """
    try:
        found, limit = read_points(points), float(limit_mm) if limit_mm is not None else None
    except Refusal as refusal:
        raise Refused(refused(refusal), "points") from refusal
    if any(is_out(one, limit) for one in found):
        return True
    measured = any(one.deviation is not None for one in found)
    looked_at = measured or any(one.within is not None for one in found)
    return False if looked_at and (limit is not None or not measured) else None


def _with_its_hold(entry: Entry, said: Said) -> Entry:
    """The form may be an old one, whose entry was put right or taken back since: then nothing is held anew."""
    if stands(entry):
        hold_if_unseen(entry, said.get("recorded_by"))
    return entry


def log_use(
    trim_mask: Tool,
    *,
    count: int = 1,
    serial: str = "",
    part: str = "",
    revision: str | LeftAlone = "",
    cutter: str = "",
    minutes: Decimal | None = None,
    metres: Decimal | LeftAlone | None = None,
    outcome: str = "",
    unless: Unless | None = None,
    **said: Unpack[Said],
) -> Entry:
    """Parts were trimmed against the trim mask.

    cutter: the codes of what was taken, with commas. metres: how far it cut in all. outcome: one of OUTCOMES, "" where
    all went well.
    """
    return record(
        trim_mask,
        "used",
        count=count,
        serial=serial,
        part=part,
        revision=revision,
        cutter=cutter,
        minutes=minutes,
        metres=metres,
        outcome=outcome,
        unless=unless,
        **said,
    )


def log_check(
    trim_mask: Tool,
    *,
    passed: bool | LeftAlone,
    serial: str = "",
    part: str = "",
    gauge: str = "",
    points: str = "",
    limit_mm: Decimal | LeftAlone | None = None,
    instrument: str = "",
    calibrated_until: date | None = None,
    **said: Unpack[Said],
) -> Entry:
    """The cut edge of a part was checked, and so the trim mask.

    gauge: what it was held against (a master part, a gauge). points: what was found where, in the words of
    `trimfixtures.calc.points`; limit_mm: how far off a point may be, either way. instrument: what measured, good until.
    """
    return record(
        trim_mask,
        "check",
        passed=passed,
        serial=serial,
        part=part,
        gauge=gauge,
        points=points,
        limit_mm=limit_mm,
        instrument=instrument,
        calibrated_until=calibrated_until,
        **said,
    )
