"""The checks of the edge that a trim mask cuts: each as it was found, against how many parts were cut by then."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime, tzinfo
from typing import NamedTuple

from django.core.paginator import Page, Paginator
from django.db.models import Case, Exists, OuterRef, Q, Sum, Value, When, Window
from django.db.models.functions import Coalesce

from tooling.models import Entry, Tool
from tooling.models.entries import EntryQuerySet
from trimfixtures.calc.outline import Outline
from trimfixtures.models import Mask
from trimfixtures.selectors.edge_check import Check, check_of
from trimfixtures.selectors.edge_series import Series, series_of
from trimfixtures.services.mask_rules import outline_of

# Of all the checks so many stand on a page, so many before one beside it, so many say where it is going
PAGE, BEFORE, SERIES = 20, 8, 100
_PARTS = Coalesce("count", Value(1))


class _Counted(NamedTuple):
    """A check by its key and number, with the parts cut by then."""

    pk: int
    number: int
    uses: int


@dataclass(frozen=True, slots=True)
class EdgeChecks:
    """The checks of a trim mask up to a moment, and what follows from them.

    mask, outline: None where nobody has described it. count: checks in all. last: the newest. one: the one that is
    shown; before: those before it, the newest first, at most BEFORE; earlier, since: how many in all before and after
    it. page, listed: one page of all of them, the newest first. uses: parts cut by now.
    """

    tool: Tool
    mask: Mask | None
    outline: Outline | None
    count: int
    last: Check | None
    one: Check | None
    before: list[Check]
    earlier: int
    since: int
    page: Page
    listed: list[Check]
    uses: int
    series: Series

    @property
    def length(self) -> float | None:
        """All around the outline, in mm."""
        return self.outline.length if self.outline is not None else None


def edge_checks(
    tool: Tool, at: datetime, zone: tzinfo, *, number: int | None = None, page: str | None = None
) -> EdgeChecks:
    """Those of one trim mask as of a moment, in a fixed number of queries and with a bound on what is read.

    number: of the check that is shown; without it, or where none that stands has it, the newest that has points, else
    the newest.
    """
    mask = Mask.objects.filter(tool=tool).first()
    standing = Entry.objects.filter(tool=tool, at__lte=at).standing()
    every, mended = _counted(standing), _mended(standing)
    current = every[: [one.pk for one in every].index(mended.pk)] if mended is not None else every
    asked = next((spot for spot, one in enumerate(every) if one.number == number), None)
    near = every[asked or 0 :][: 2 * BEFORE]
    listed = Paginator(every, PAGE).get_page(page)
    found = _read([*every[:1], *near, *listed, *current[:SERIES]], zone)
    shown = asked
    if shown is None:
        shown = next((spot for spot, one in enumerate(near[:BEFORE]) if found[one.pk].points), 0)
    beside = [found[one.pk] for one in every[shown:][: BEFORE + 1]]
    return EdgeChecks(
        tool=tool,
        mask=mask,
        outline=outline_of(mask.outline) if mask is not None else None,
        count=len(every),
        last=found[every[0].pk] if every else None,
        one=next(iter(beside), None),
        before=beside[1:],
        earlier=len(every[shown + 1 :]),
        since=shown,
        page=listed,
        listed=[found[one.pk] for one in listed],
        uses=standing.filter(kind="used").aggregate(total=Sum(_PARTS))["total"] or 0,
        series=series_of([found[one.pk] for one in current[:SERIES]], mended, all_of_it=len(current) <= SERIES),
    )


def _counted(standing: EntryQuerySet) -> list[_Counted]:
    """Each check, the newest first; the parts are added up in the database."""
    each = Case(When(kind="used", then=_PARTS), default=Value(0))
    rows = standing.filter(kind__in=("check", "used")).annotate(uses=Window(Sum(each), order_by=("at", "pk")))
    # Asked together with the sum, which no part can make less than 0: by itself it would leave the parts out of it.
    checks = rows.filter(Q(kind="check") | Q(uses__lt=0)).order_by("-at", "-pk")
    return [_Counted(*row) for row in checks.values_list("pk", "number", "uses")]


def _mended(standing: EntryQuerySet) -> Entry | None:
    """The last failed check that somebody looked at the trim mask after, and freed it: what was read before tells
    nothing of how it is now.
    """
    later = Q(at__gt=OuterRef("at")) | Q(at=OuterRef("at"), pk__gt=OuterRef("pk"))
    looks = standing.filter(later, kind="inspected", payload__passed=True)
    return standing.filter(Exists(looks), kind="check", payload__passed=False).order_by("-at", "-pk").first()


def _read(wanted: Iterable[_Counted], zone: tzinfo) -> dict[int, Check]:
    uses = {one.pk: one.uses for one in wanted}
    rows = Entry.objects.filter(pk__in=uses).select_related("by", "recorded_by")
    return {row.pk: check_of(row, uses[row.pk], zone) for row in rows}
