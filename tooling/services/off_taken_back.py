"""What came off a plug is rubbed out as it was written: the pull of the one and the beginning of the other at once."""

from dataclasses import dataclass
from datetime import timedelta
from uuid import UUID, uuid5

from django.utils.translation import gettext as _

from shared import clock
from shared.errors import Refused
from tooling.calc.entry import part_key
from tooling.models import Entry, Person, Tool, ToolChange
from tooling.selectors.off_the_plug import SOURCES
from tooling.services import deeds
from tooling.services.catalogue import change_tool
from tooling.services.deeds.matched import all_or_none
from tooling.services.deeds.undo import gone, gone_with, may_rub_out, sent_before, strike

# What `take_off` writes of the tool, by what the token of each is made with.
OF_THE_TOOL = {"start": "starting_state", "step": "making", "place": "moved"}
# What is written in one transaction is recorded within less.
_TOGETHER = timedelta(minutes=2)


@dataclass(frozen=True, slots=True)
class TakingOff:
    """One deed. pull: of the plug. entries: what was written of the tool and stands. new: it came in with them."""

    pull: Entry
    tool: Tool
    entries: tuple[Entry, ...]
    new: bool

    @property
    def pull_stays(self) -> bool:
        """Whether the pull was logged before, and only told what came off; or is taken back already."""
        return self.pull.replaces_id is not None or gone(self.pull)


def taking_off(entry: Entry) -> TakingOff | None:
    """The taking off that an entry was written with, of the plug or of what came off; None where it was none."""
    pull = entry if entry.kind == "pull" else _pull_of(entry)
    if pull is None or not pull.part or pull.tool.kind not in SOURCES:
        return None
    tool = Tool.objects.filter(code=part_key(pull.part), made_from=pull.tool).select_related("summary").first()
    if tool is None:
        return None
    written = Entry.objects.filter(tool=tool, token__in=_tokens(pull)).select_related("tool", "by", "recorded_by")
    new = ToolChange.objects.filter(tool=tool, field="code", before="", at__range=_near(pull)).exists()
    entries = tuple(one for one in written.order_by("-number") if not gone(one))
    return TakingOff(pull, tool, entries, new) if entries or new else None


def _pull_of(entry: Entry) -> Entry | None:
    """The pull whose form wrote an entry of what came off."""
    if entry.token is None or entry.tool.made_from_id is None or entry.kind not in OF_THE_TOOL.values():
        return None
    pulls = Entry.objects.filter(tool=entry.tool.made_from_id, kind="pull", recorded_at__range=_near(entry))
    near = pulls.exclude(token=None).select_related("tool", "by", "recorded_by")
    return next((one for one in near if entry.token in _tokens(one)), None)


def _tokens(pull: Entry) -> list[UUID]:
    """Those of what was written of the tool by the form of a pull."""
    return [uuid5(pull.token, what) for what in OF_THE_TOOL] if pull.token is not None else []


def _near(entry: Entry) -> tuple[object, object]:
    return (entry.recorded_at - _TOGETHER, entry.recorded_at + _TOGETHER)


def rub_out_whole(entry: Entry, *, recorded_by: Person, token: UUID | None = None) -> list[Entry]:
    """One's own entry of a moment ago is voided, with all that was written by the same tap.

    A tool that came into the list with it is retired, where nothing else was written of it since: nothing is ever
    removed. It came off nothing then, and stands in no family. A pull that was logged before stays.
    """
    off = taking_off(entry) if not sent_before(token) and not gone(entry) else None
    if off is None:
        return deeds.rub_out_set(entry, recorded_by=recorded_by, token=token)
    whole = [*off.entries, *(() if off.pull_stays else (off.pull,))]
    entries = sorted(whole, key=lambda one: one.pk != entry.pk)
    if not all(may_rub_out(one, recorded_by) for one in entries):
        raise Refused(_("Rubbing out ends five minutes after writing. A lead can void it, with a reason."))

    def write() -> list[Entry]:
        voids = [strike(one, recorded_by=recorded_by, token=_token(token, one, entry)) for one in entries]
        if off.new and not Entry.objects.filter(tool=off.tool).standing().exclude(kind="void").exists():
            why = _("taken off by mistake")
            change_tool(off.tool, by=recorded_by, at=clock.now(), columns={"made_from": None})
            voids.append(deeds.retire(off.tool, reason=why, by=entry.by, recorded_by=recorded_by))
        return voids

    away = [one.tool for one in gone_with(off.pull)]
    return all_or_none([off.pull.tool, off.tool, *away], write)


def _token(token: UUID | None, one: Entry, first: Entry) -> UUID | None:
    return token if token is None or one.pk == first.pk else uuid5(token, str(one.pk))
