"""Tools of a matched set that close on one part: one deed on one half writes to all of them, or to none.

The first half carries the form's own token, every other one a token that is made from it: so the same form sent twice
writes nothing twice, and what was written together is found again from each half.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import timedelta
from operator import attrgetter
from typing import Any
from uuid import UUID, uuid5

from django.db import transaction
from django.utils.translation import gettext as _

from shared import clock
from shared.errors import AskFirst, Refused, TokenReused
from tooling.models import Entry, Kind, Person, Tool
from tooling.services.deeds.alongside import in_place_of
from tooling.services.deeds.undo import gone_with, may_rub_out, sent_before, strike
from tooling.services.deeds.uses import abandon, end_lay_up, lay_up, log_pull
from tooling.services.families import FamilyMoved, lock_together
from tooling.services.seals import seal_if_new_day
from tooling.services.trying import tried

# How often the locks are taken anew where inserts are moved between the look and the lock.
_ATTEMPTS = 3
# What is written in one transaction is recorded within less.
_TOGETHER = timedelta(minutes=2)


@dataclass(frozen=True)
class HalfPulled:
    """How one half came off, and what was seen on it; the part and its serials are said once for all of them."""

    tool: Tool
    came_off: str = ""
    fault: str = ""
    cause: str = ""
    surface: Tool | None = None
    part_damaged: bool | None = None
    tool_damaged: bool | None = None

    def facts(self) -> dict[str, Any]:
        """What its entry says of it alone."""
        names = ("came_off", "fault", "cause", "surface", "part_damaged", "tool_damaged")
        return {name: getattr(self, name) for name in names}


def lay_up_set(tools: Sequence[Tool], **about: Any) -> list[Entry]:
    """A part is begun in several halves: `about` is what `lay_up` is told, the same on all. The entries in this order.

    Order: the day's seal; the locks of all halves; then each half as by itself. A refusal on one writes nothing on any.
    """
    return on_all([(tool, {}) for tool in tools], lay_up, about)


def end_lay_up_set(tools: Sequence[Tool], **about: Any) -> list[Entry]:
    """The last ply is on in several halves; as `lay_up_set`."""
    return on_all([(tool, {}) for tool in tools], end_lay_up, about)


def abandon_set(tools: Sequence[Tool], **about: Any) -> list[Entry]:
    """The lay-up in several halves is given up; as `lay_up_set`."""
    return on_all([(tool, {}) for tool in tools], abandon, about)


def log_pull_set(halves: Sequence[HalfPulled], **about: Any) -> list[Entry]:
    """One part comes off several halves, each in its own way; part, serial, count and film are the same on all."""
    return on_all([(half.tool, half.facts()) for half in halves], log_pull, about)


def rub_out_set(entry: Entry, *, recorded_by: Person, token: UUID | None = None) -> list[Entry]:
    """One's own entry of a moment ago is voided, and with it what was written on the other halves by the same form.

    Where one of them is no longer to be rubbed out none is.
    """
    entries = [entry, *written_with(entry)]
    tokens = [_token(token, one.tool, first=entry.tool) for one in entries]
    if not sent_before(token) and not all(may_rub_out(one, recorded_by) for one in entries):
        raise Refused(_("Rubbing out ends five minutes after writing. A lead can void it, with a reason."))

    def write() -> list[Entry]:
        return [strike(one, recorded_by=recorded_by, token=of) for one, of in zip(entries, tokens, strict=True)]

    away = [gone.tool for one in entries for gone in gone_with(one)]
    return all_or_none([*(one.tool for one in entries), *away], write)


def written_with(entry: Entry) -> list[Entry]:
    """What the same form wrote on the other halves, as it stands now; what is void there is left out."""
    first = entry.with_earlier()[-1]
    if first.token is None or not entry.tool.matched_set:
        return []
    near = (first.recorded_at - _TOGETHER, first.recorded_at + _TOGETHER)
    others = Entry.objects.filter(tool__in=_others(entry.tool), kind=first.kind, recorded_at__range=near)
    found = list(others.exclude(token=None).select_related("tool", "by"))
    # The first half of that form: this one, or the one whose token this one's was made from.
    root = next((one for one in found if _token(one.token, first.tool, one.tool) == first.token), first)
    same = [one for one in found if one is root or _token(root.token, one.tool, root.tool) == one.token]
    standing = (_standing(one) for one in sorted(same, key=attrgetter("tool_id")))
    return [one for one in standing if one is not None]


def _standing(entry: Entry) -> Entry | None:
    """What stands in the entry's place now; None where that is void."""
    entry = in_place_of(entry)
    return None if Entry.objects.filter(voids=entry).exists() else entry


def _others(tool: Tool) -> list[int]:
    halves = Tool.objects.filter(matched_set=tool.matched_set, kind=Kind.MOLD).exclude(pk=tool.pk)
    return list(halves.values_list("pk", flat=True)) if tool.matched_set else []


def on_all(
    halves: Sequence[tuple[Tool, dict[str, Any]]], deed: Callable[..., Entry], about: dict[str, Any]
) -> list[Entry]:
    """Does a deed on every half: with `about` on all, and with what is said of each alone."""
    tools = [tool for tool, _facts in halves]
    _check_set(tools)
    token = about.pop("token", None)

    def write() -> list[Entry]:
        _check_same_halves(token, tools)
        return [_half(tool, deed, {**about, **facts}, token, tools) for tool, facts in halves]

    return all_or_none(tools, write)


def all_or_none(tools: Sequence[Tool], write: Callable[[], list[Entry]]) -> list[Entry]:
    """Writes to several tools in one transaction, with all of their locks."""
    if tried() is not None:
        return write()
    for _attempt in range(_ATTEMPTS):
        try:
            with transaction.atomic():
                seal_if_new_day(clock.now())
                lock_together(tools)
                return write()
        except FamilyMoved:
            continue
    raise Refused(_("Mold inserts were moved here at this very moment. Try once more."))


def _half(
    tool: Tool, deed: Callable[..., Entry], about: dict[str, Any], token: UUID | None, tools: Sequence[Tool]
) -> Entry:
    """One half; a refusal says which."""
    try:
        return deed(tool, token=_token(token, tool, tools[0]), **about)
    except (AskFirst, TokenReused):
        raise
    except Refused as refused:
        if len(tools) == 1:
            raise
        raise Refused(f"{tool.code}: {refused.message}", refused.field) from refused


def _token(token: UUID | None, tool: Tool, first: Tool) -> UUID | None:
    return token if token is None or tool == first else uuid5(token, str(tool.pk))


def _check_set(tools: Sequence[Tool]) -> None:
    """Only halves that close on one part are written to together."""
    first, *others = tools
    alike = all(one.matched_set and one.matched_set == first.matched_set for one in others)
    if (
        not alike
        or any(one.kind != Kind.MOLD for one in tools if others)
        or len({one.pk for one in tools}) < len(tools)
    ):
        raise Refused(_("Only molds of one matched set are written to together."))


def _check_same_halves(token: UUID | None, tools: Sequence[Tool]) -> None:
    """The same form with other halves ticked is another one."""
    if token is None or not sent_before(token):
        return
    told = {_token(token, tool, tools[0]): tool.pk for tool in tools}
    might = {uuid5(token, str(pk)): pk for pk in _others(tools[0])}
    there = set(Entry.objects.filter(token__in=[*told, *might]).values_list("tool", flat=True))
    if there != set(told.values()):
        raise TokenReused(
            _("This form was sent before, with something else in it. That was written. Open the page anew to add this.")
        )
