"""A tool's history as its page shows it: standing and void entries newest first, with what became of each."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime, tzinfo

from django.db.models import Count, F, Min, OuterRef, Q, QuerySet, Subquery
from django.db.models.functions import ExtractYear

from tooling.calc.entry import INSERT_KINDS, KINDS, USE_KINDS, VOID
from tooling.calc.entry import Entry as Fact
from tooling.calc.membership import reached, stays, uses
from tooling.calc.order import effective
from tooling.models import Entry, Flag, Kind, LeadNote, Picture, Place, PlaceCount, Tool
from tooling.models.entries import EntryQuerySet
from tooling.selectors.lead_notes import seen_of
from tooling.selectors.loans import loans_ended
from tooling.selectors.pictures import of_entries

# As many entries as the tool's page shows at first, and as one page of its history.
FIRST, PAGE = 12, 50

# What a reader looks for in a long history; the rest is everything that no other group has.
_GROUPS = {
    "pulls": USE_KINDS,
    "coats": frozenset({"sealer", "coat", "film", "strip", "clean", "wax_wanted", "release_check", "build_up"}),
    "surface": frozenset({"repair", "polish", "resurfaced", "hold", "inspected", "retired", "reinstated"}),
    "inserts": INSERT_KINDS,
    "places": frozenset({"moved", "lent", "handed_back"}),
}
GROUPS = {**_GROUPS, "rest": KINDS - {VOID}.union(*_GROUPS.values())}
# No clock of a shop shows more.
_LAST_YEAR = 9998


@dataclass(frozen=True, slots=True)
class Wanted:
    """The part of a history that is looked at: a page, a group of kinds (or ""), a year in the shop (or None).

    Page 0: what happened last, and no more.
    """

    page: int = 1
    group: str = ""
    year: int | None = None


ALL = Wanted()


@dataclass(frozen=True, slots=True)
class Line:
    """One fact: the entry that stands for it, those it replaced (newest first), its void, its flags, its pictures.

    A flag is on a surface; `surface` None: on the tool whose page it is.
    """

    entry: Entry
    before: tuple[Entry, ...]
    void: Entry | None
    flags: tuple[tuple[Tool | None, str], ...]
    pictures: tuple[Picture, ...] = ()
    lead_note: LeadNote | None = None


@dataclass(frozen=True, slots=True)
class Year:
    """A year of a history in the shop: how many facts, and of which groups of kinds."""

    year: int
    count: int
    groups: dict[str, int]


@dataclass(frozen=True, slots=True)
class Timeline:
    """One page of a history, and what lies beyond it. Codes of tools and names of places that its entries name, and
    the names of the places that were counted, by the number of the count; who had the tool until it was seen, by when
    that was.
    """

    lines: list[Line]
    page: int
    older: int
    since: datetime | None
    tools: dict[int, str]
    places: dict[int, str]
    wanted: Wanted
    folded: list[Year]
    counts: dict[int, str]
    loans: dict[datetime, str]

    @property
    def years(self) -> list[int]:
        """The years in which something happened, the newest first."""
        return [year.year for year in self.folded]

    @property
    def brief(self) -> bool:
        """Whether only the last entries are shown, and older ones folded by year."""
        return self.page == 0

    @property
    def newer_page(self) -> int:
        """The page before this one."""
        return self.page - 1

    @property
    def older_page(self) -> int:
        """The page after this one."""
        return self.page + 1


def timeline(tool: Tool, wanted: Wanted, zone: tzinfo) -> Timeline:
    """A page of the history of a tool, from 1; beyond the last it is the last. Page 0 has the first few alone."""
    every_fact = facts_of(tool)
    years = _years(every_fact, zone)
    facts = _narrowed(every_fact, wanted, zone)
    count = facts.aggregate(n=Count("pk"), since=Min("at"))
    page = max(1, min(wanted.page, -(-count["n"] // PAGE))) if wanted.page else 0
    begins, ends = ((page - 1) * PAGE, page * PAGE) if page else (0, FIRST)
    shown = list(_with_voids(facts).order_by("-at", "-id")[begins:ends])
    replaced = _replaced(tool)
    chains = {entry.pk: _chain(entry, replaced) for entry in shown}
    voids = _voids(shown)
    flags = _flags(tool, shown)
    pictures, told = of_entries(entry.pk for entry in shown), seen_of(shown)
    lines = [
        Line(
            one,
            chains[one.pk],
            voids.get(one.pk),
            flags.get(one.pk, ()),
            tuple(pictures.get(one.pk, ())),
            told.get(one.pk),
        )
        for one in shown
    ]
    every = [entry for line in lines for entry in (line.entry, *line.before)]
    older = max(0, count["n"] - ends)
    return Timeline(
        lines, page, older, count["since"], tools_named(every), places_named(every), wanted, years, counts_named(every),
        loans_named(every),
    )  # fmt: skip


def _years(facts: QuerySet[Entry], zone: tzinfo) -> list[Year]:
    """What happened in each year, the newest first."""
    of = {kind: group for group, kinds in GROUPS.items() for kind in kinds}
    rows = facts.order_by().values("kind", year=ExtractYear("at", tzinfo=zone)).annotate(n=Count("pk"))
    years: dict[int, dict[str, int]] = {}
    for row in rows:
        groups = years.setdefault(row["year"], {})
        groups[of[row["kind"]]] = groups.get(of[row["kind"]], 0) + row["n"]
    return [Year(year, sum(groups.values()), groups) for year, groups in sorted(years.items(), reverse=True)]


def _narrowed(facts: QuerySet[Entry], wanted: Wanted, zone: tzinfo) -> QuerySet[Entry]:
    if wanted.group in GROUPS:
        facts = facts.filter(kind__in=GROUPS[wanted.group])
    if wanted.year is None or not 1 < wanted.year <= _LAST_YEAR:
        return facts
    begins, ends = (datetime(year, 1, 1, tzinfo=zone) for year in (wanted.year, wanted.year + 1))
    return facts.filter(at__gte=begins, at__lt=ends)


def facts_of(tool: Tool) -> EntryQuerySet:
    """What happened to a tool: its own entries, a mold's with its inserts installed and removed, an insert's with the
    uses of its molds that reach it. Voids are left out, and what a correction replaced.
    """
    facts = Entry.objects.exclude(kind=VOID).not_replaced()
    mine = Q(tool=tool)
    if tool.kind in Kind.TAKES_INSERTS:
        inserts = Entry.objects.filter(mold=tool, kind="installed").values("tool")
        facts = facts.alias(out_of=Subquery(_mold_of(OuterRef("tool"), before=True)))
        mine |= Q(mold=tool) | Q(kind="removed", tool__in=inserts, out_of=tool.pk)
    elif tool.kind == Kind.INSERT:
        molds = Entry.objects.filter(tool=tool, kind="installed").values("mold")
        facts = facts.alias(was_in=Subquery(_mold_of(tool.pk)))
        mine |= Q(kind__in=USE_KINDS, tool__in=molds, was_in=F("tool")) | Q(pk__in=after_leaving(tool))
    return facts.filter(mine)


def _with_voids(facts: QuerySet[Entry]) -> QuerySet[Entry]:
    # One by one: most entries have no void, so that SQLite with statistics reads them all where it is given a list.
    void = Entry.objects.filter(voids=OuterRef("pk")).values("pk")[:1]
    return facts.annotate(void_key=Subquery(void)).select_related("tool", "by", "recorded_by")


def _voids(shown: Iterable[Entry]) -> dict[int | None, Entry]:
    """The voids of entries that were read with theirs, by the key of what they void."""
    keys = [key for entry in shown if (key := entry.void_key) is not None]  # type: ignore[attr-defined]
    voids = Entry.objects.filter(pk__in=keys).select_related("by", "recorded_by")
    return {void.voids_id: void for void in voids} if keys else {}


def after_leaving(insert: Tool) -> list[int]:
    """Uses of molds that reach an insert which was in at the lay-up and had left by then: rare, and few."""
    left = Entry.objects.filter(tool=insert, kind="removed").values_list("at", flat=True)
    if not left:
        return []
    molds = Entry.objects.filter(tool=insert, kind="installed").values("mold")
    bearing = Q(kind__in=INSERT_KINDS | USE_KINDS) | ~Q(voids=None) | ~Q(replaces=None)
    entries = Entry.objects.filter(bearing, Q(tool=insert) | Q(tool__in=molds))
    logs: dict[int, list[Fact]] = {}
    columns = ("id", "tool_id", "kind", "at", "mold_id", "replaces_id", "voids_id")
    for pk, tool, kind, at, mold, replaces, voids in entries.order_by("id").values_list(*columns):
        logs.setdefault(tool, []).append(Fact(pk, tool, kind, at, mold=mold, replaces=replaces, voids=voids))
    times = stays(effective(logs.pop(insert.pk)))
    return [
        use.placed[2].id
        for mold, log in logs.items()
        for use in uses(effective(log))
        if reached(times, mold, use.instants) and not reached(times, mold, [use.placed[0]])
    ]


def _mold_of(insert: object, before: bool = False) -> QuerySet[Entry]:
    """The mold that an insert was in at the time of an outer entry, or just before it; none where it was in none."""
    moves = Entry.objects.filter(tool=insert, kind__in=INSERT_KINDS).standing()
    moves = moves.filter(kind="installed", at__lte=OuterRef("at")) if before else moves.filter(at__lte=OuterRef("at"))
    return moves.order_by("-at", "-id").values("mold")[:1]


def _replaced(tool: Tool) -> dict[int, Entry]:
    """Every entry of the tool that a correction stands for."""
    later = Entry.objects.filter(tool=tool).exclude(replaces=None)
    entries = Entry.objects.filter(pk__in=later.values("replaces"))
    return {entry.pk: entry for entry in entries.select_related("by", "recorded_by")}


def _chain(entry: Entry, replaced: dict[int, Entry]) -> tuple[Entry, ...]:
    chain = []
    before = replaced.get(entry.replaces_id or 0)
    while before is not None:
        chain.append(before)
        before = replaced.get(before.replaces_id or 0)
    return tuple(chain)


def _flags(tool: Tool, shown: list[Entry]) -> dict[int, tuple[tuple[Tool | None, str], ...]]:
    """Flags by entry: an insert has its own only, a mold also those of its entries on inserts."""
    flags = Flag.objects.filter(entry__in=shown).select_related("surface").order_by("surface__code", "id")
    if tool.kind == Kind.INSERT:
        flags = flags.filter(surface=tool)
    found: dict[int, tuple[tuple[Tool | None, str], ...]] = {}
    for flag in flags:
        on = None if flag.surface_id == tool.pk else flag.surface
        found[flag.entry_id] = (*found.get(flag.entry_id, ()), (on, flag.flag))
    return found


def tools_named(entries: Iterable[Entry]) -> dict[int, str]:
    """The codes of the tools that entries name besides their own."""
    named = {pk for entry in entries for pk in (entry.mold_id, entry.payload.get("surface")) if pk is not None}
    return dict(Tool.objects.filter(pk__in=named).values_list("pk", "code"))


def places_named(entries: Iterable[Entry]) -> dict[int, str]:
    """The names of the places that entries name."""
    named = {entry.payload["place"] for entry in entries if entry.payload.get("place") is not None}
    return dict(Place.objects.filter(pk__in=named).values_list("pk", "name"))


def counts_named(entries: Iterable[Entry]) -> dict[int, str]:
    """The names of the places whose counts entries name, by the number of the count."""
    named = {entry.payload["counted"] for entry in entries if entry.payload.get("counted")}
    return dict(PlaceCount.objects.filter(number__in=named).values_list("number", "place__name"))


def loans_named(entries: Iterable[Entry]) -> dict[datetime, str]:
    """Who had a tool until one of these entries saw it, by the moment of that entry."""
    seen = [entry for entry in entries if entry.kind == "moved" and entry.payload.get("place")]
    ended = loans_ended(entry.tool_id for entry in seen) if seen else {}
    return {one.at: ended[one.pk].payload.get("person", "") for one in seen if one.pk in ended}
