"""The one way into a history: lock, check, write, link, absorb. Every deed goes through `record`."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Any
from uuid import UUID

from django.db import IntegrityError, transaction
from django.utils.translation import gettext as _

from shared import clock
from shared.errors import Refused, TokenReused
from tooling.calc.check import Refusal, check_alone
from tooling.calc.entry import Entry as Fact
from tooling.models import Entry, Person, Shop, Summary, Tool
from tooling.selectors.recipes import recipe_book
from tooling.services import chain, defects, serials, wanted_done
from tooling.services.absorb import Rules, absorb
from tooling.services.acceptance_rules import check_corrected
from tooling.services.checks import check_history, check_kinds, check_system
from tooling.services.drafts import draft, filled_in, fingerprint
from tooling.services.entry_rules import wrong_with
from tooling.services.families import Family, FamilyMoved, lock
from tooling.services.lead_notes import keep_told
from tooling.services.refusals import refused
from tooling.services.seals import seal_if_new_day
from tooling.services.search import keep_entry
from tooling.services.standing_rules import check_free
from tooling.services.tags import wanted
from tooling.services.trying import tried
from tooling.services.whereabouts import keep_whereabouts

# Stands for the number that the database will give: behind all that there are.
_NOT_YET = 2**62
# What a deed still asks of the locked tool and the present moment; it raises what keeps the entry from being written.
# What it answers is written with the entry, and is no part of what the form said.
Unless = Callable[[Summary, datetime], Mapping[str, Any] | None]
# These say how hot the tool may get, which stands on its tag.
_HEAT = frozenset({"repair", "resurfaced"})
# How often the locks are taken anew where inserts are moved between the look and the lock.
_ATTEMPTS = 3


@dataclass(frozen=True)
class _Asked:
    """One deed as it was asked for; `seen` is the fingerprint of it."""

    tool: Tool
    kind: str
    by: Person | None
    recorded_by: Person | None
    at: datetime | None
    ago: timedelta
    token: UUID | None
    seen: str
    replaces: Entry | None
    voids: Entry | None
    unless: Unless | None
    said: dict[str, Any]


def record(
    tool: Tool,
    kind: str,
    *,
    by: Person | None,
    recorded_by: Person | None,
    at: datetime | None = None,
    ago: timedelta | None = None,
    token: UUID | None = None,
    replaces: Entry | None = None,
    voids: Entry | None = None,
    unless: Unless | None = None,
    **said: Any,
) -> Entry:
    """Writes one entry and all that follows from it, in one transaction.

    Order: the day's seal; the family's locks; the token (the same form again gets the first answer again); `unless`,
    which may refuse for what another hand wrote a moment ago; checks; what is wanted no more; the entry with its link
    and its serial numbers; states, flags and spans; place and step; defects; the summaries; words; what the lead is
    told; whether its tag still says what is so. Inside `trying` it is only put together and checked by itself.

    `at` None means now, less the time that it took to get here (`ago`, which makes no other form of it). Raises Refused
    with a sentence, and TokenReused where the token came with other content.
    """
    seen = fingerprint(tool, kind, at, {**said, "by": by, "replaces": replaces, "voids": voids})
    asked = _Asked(tool, kind, by, recorded_by, at, ago or timedelta(), token, seen, replaces, voids, unless, said)
    entries = tried()
    if entries is not None:
        return _tried(asked, entries)
    for attempt in range(_ATTEMPTS):
        try:
            return _record(asked)
        except FamilyMoved:
            if attempt == _ATTEMPTS - 1:
                raise Refused(_("Mold inserts were moved here at this very moment. Try once more.")) from None
        except IntegrityError:
            # The token came in with another deed at the same moment: what was written then is the answer.
            first = _answered(token, seen)
            if first is None:
                raise
            return first
    raise AssertionError("every attempt returns or raises")


def _record(asked: _Asked) -> Entry:
    with transaction.atomic():
        seal_if_new_day(clock.now())
        family = lock(asked.tool, _mold_id(asked.said))
        first = _answered(asked.token, asked.seen)
        if first is not None:
            return first
        shop, now = Shop.current(), clock.now()  # the time after the wait for the locks: recorded in this order
        found = asked.unless(family.tool, now) if asked.unless is not None else None
        entry = _drafted(family.tool.tool, asked, now, found or {})
        rules = Rules(recipe_book(), shop.zone, now, shop.formal_since)
        _check(family, entry, rules, shop)
        wanted_done.keep(entry)
        _write(family.tool, entry)
        stood = _on_tag(family.tool)
        changed = absorb(family, entry.as_calc(), rules)
        keep_whereabouts(family.tool, entry, rules.formal_since)
        defects.keep_defects(entry, family.tool)
        for summary in {one.tool_id: one for one in (*changed, family.tool)}.values():
            summary.save()
        keep_entry(family.tool, entry, changed)
        keep_told(entry)
        if _on_tag(family.tool) != stood or (entry.voids or entry).kind in _HEAT:
            wanted.keep([family.tool.tool_id])
    return entry


def _on_tag(summary: Summary) -> tuple[Any, ...]:
    """What stands on the tag of a tool and comes from its history, but for how hot it may get."""
    return summary.home_id, summary.state.get("system"), summary.retired


def _tried(asked: _Asked, entries: list[Entry]) -> Entry:
    """The entry as it would be written, after the checks that want no lock."""
    now = clock.now()
    entry = _drafted(asked.tool, asked, now, {})
    _check_alone(entry, now)
    entries.append(entry)
    return entry


def _mold_id(said: dict[str, Any]) -> int | None:
    mold = said.get("mold")
    return mold.pk if mold is not None else None


def _answered(token: UUID | None, seen: str) -> Entry | None:
    same = Entry.objects.filter(token=token)
    if token is None or not same.exists():
        return None
    first = same.get()
    if first.payload.get("asked") != seen:
        raise TokenReused(
            _("This form was sent before, with something else in it. That was written. Open the page anew to add this.")
        )
    return first


def _drafted(tool: Tool, asked: _Asked, now: datetime, found: Mapping[str, Any]) -> Entry:
    at, said = asked.at or now - asked.ago, {**filled_in(tool, asked.said), **found}
    earliest = said.get("earliest_pull")
    if isinstance(earliest, timedelta):
        said = {**said, "earliest_pull": at + earliest}
    entry = draft(tool, asked.kind, said)
    entry.by, entry.recorded_by, entry.at, entry.recorded_at = asked.by, asked.recorded_by, at, now
    entry.replaces, entry.voids, entry.token = asked.replaces, asked.voids, asked.token
    if asked.token is not None:
        entry.payload["asked"] = asked.seen
    return entry


def _check(family: Family, entry: Entry, rules: Rules, shop: Shop) -> None:
    made = drafted_fact(entry, _NOT_YET)
    _check_alone(entry, rules.now)
    try:
        check_history(family, made, entry.replaces or entry.voids, rules)
    except Refusal as refusal:
        raise refused(refusal) from refusal
    defects.check(entry, now=rules.now, zone=rules.zone)
    check_free(family.tool.tool, entry, made, rules, shop)
    check_corrected(entry, shop)


def _check_alone(entry: Entry, now: datetime) -> None:
    try:
        made = drafted_fact(entry, _NOT_YET)
        check_alone(made, now, entry.payload.get("fault", ""), entry.payload.get("reason", ""))
    except Refusal as refusal:
        raise refused(refusal) from refusal
    check_kinds(entry)
    check_system(entry)
    for field, message in wrong_with(entry.kind, {**entry.payload, "at": entry.at}).items():
        raise Refused(message, field)


def drafted_fact(entry: Entry, number: int) -> Fact:
    """An entry that has no number yet, as the rules read it."""
    made = entry.as_calc()
    made.id = number
    return made


def _write(summary: Summary, entry: Entry) -> None:
    entry.number = summary.count + 1
    entry.link = chain.link(summary.head or chain.beginning(entry.tool_id), chain.fields_of(entry))
    entry.save()
    if entry.serial:
        serials.keep([entry])
    summary.count, summary.head = entry.number, entry.link
