"""The daily seal: one digest over where every chain stands, made by the first deed of a new day.

A seal that is printed, or kept outside, proves later that the history up to that day is the same as it was. A seal that
never left the database proves less: an administrator can make the chains and the seals anew. Nothing here stops that.
"""

import json
from collections.abc import Iterable, Iterator
from datetime import date, datetime
from hashlib import sha256
from zoneinfo import ZoneInfo

from django.conf import settings
from django.db import IntegrityError, transaction
from django.db.models import F, OuterRef, Q, Subquery
from django.db.models.functions import Coalesce
from django.utils.translation import gettext as _

from tooling.calc.state import micros
from tooling.models import Entry, Seal, SealLine, Shop, Summary
from tooling.services.findings import Finding

Line = tuple[int, int, str]  # tool, count, head

# What the first seal names as the one before it
BEGINNING = sha256(b"the first seal").hexdigest()


def digest(previous: str, day: date, made_at: datetime, lines: Iterable[Line]) -> str:
    """The digest of a seal: over the one before, its day, its moment in microseconds and its lines in tool order."""
    content = [previous, day.isoformat(), micros(made_at), sorted(lines)]
    return sha256(json.dumps(content, separators=(",", ":")).encode()).hexdigest()


def seal_if_new_day(at: datetime) -> Seal | None:
    """Seal every chain that has grown, unless the shop's day of `at` is sealed; None when it was.

    Called by each deed before it takes a lock: one query when there is nothing to do. Two first deeds at once: the
    unique day lets one seal pass, and the other deed goes on without. No summary is locked or written; the lines
    refer to tools, so a deed locks tools with no_key=True, or the two could wait for each other on PostgreSQL.
    """
    for _attempt in range(2):
        zone, sealed = _zone_and_last_day()
        day = at.astimezone(zone).date()
        if sealed is not None and day <= sealed:
            return None
        try:
            with transaction.atomic():
                return _seal(day, at)
        except IntegrityError as raced:
            # Either that day is sealed by now or, around midnight, the day before it: then the second attempt passes.
            lost = raced
    raise lost


def _zone_and_last_day() -> tuple[ZoneInfo, date | None]:
    newest = Seal.objects.order_by("-day").values("day")[:1]
    row = Shop.objects.filter(pk=1).values_list("time_zone", Subquery(newest)).first()
    if row is None:
        return ZoneInfo(settings.TIME_ZONE), Seal.objects.order_by("-day").values_list("day", flat=True).first()
    return ZoneInfo(row[0]), row[1]


def _seal(day: date, at: datetime) -> Seal:
    previous = Seal.objects.order_by("-day").values_list("digest", flat=True).first() or BEGINNING
    lines = _grown()
    seal = Seal.objects.create(day=day, made_at=at, previous=previous, digest=digest(previous, day, at, lines))
    SealLine.objects.bulk_create(SealLine(seal=seal, tool_id=tool, count=n, head=head) for tool, n, head in lines)
    return seal


def _grown() -> list[Line]:
    """Where each chain stands that has entries no seal covers."""
    sealed = SealLine.objects.filter(tool=OuterRef("tool")).order_by("-count").values("count")[:1]
    grown = Summary.objects.filter(count__gt=Coalesce(Subquery(sealed), 0)).order_by("tool_id")
    return list(grown.values_list("tool_id", "count", "head"))


def last() -> Seal | None:
    """The newest seal: its day and digest, kept outside, prove later that nothing before it was changed."""
    return Seal.objects.order_by("-day").first()


def missing(kept: str) -> Iterator[Finding]:
    """What is wrong where a digest that was kept outside is no seal of this shop any more."""
    digest = kept.strip().lower()
    if digest and not Seal.objects.filter(digest=digest).exists():
        yield Finding(
            "",
            None,
            _("no seal is %(digest)s: the seals were made anew, or it is of another shop") % {"digest": digest},
        )


def verify() -> Iterator[Finding]:
    """Everything wrong with the seals, and with the chains as they were sealed."""
    previous = BEGINNING
    for seal in Seal.objects.order_by("day"):
        name = _("seal of %(day)s") % {"day": seal.day.isoformat()}
        if seal.previous != previous:
            yield Finding("", None, f"{name}: " + _("does not follow the seal before it"))
        lines = seal.lines.values_list("tool_id", "count", "head")
        if digest(seal.previous, seal.day, seal.made_at, lines) != seal.digest:
            yield Finding("", None, f"{name}: " + _("was changed after it was made"))
        previous = seal.digest
    yield from _lines_against_chains()


def _lines_against_chains() -> Iterator[Finding]:
    stored = Entry.objects.filter(tool=OuterRef("tool"), number=OuterRef("count")).values("link")[:1]
    lines = SealLine.objects.annotate(stored=Subquery(stored)).filter(Q(stored=None) | ~Q(stored=F("head")))
    for code, number, day in lines.order_by("tool__code", "count").values_list("tool__code", "count", "seal__day"):
        yield Finding(code, number, _("is not as it was sealed on %(day)s") % {"day": day.isoformat()})
