"""Whether a drafted entry may stand in its tool's history. Each question reads only what it needs."""

from django.db.models import Q
from django.utils.translation import gettext as _

from shared.errors import Refused
from tooling.calc import check
from tooling.calc.check import Refusal
from tooling.calc.entry import INSERT_KINDS, RELEASE_KINDS, USE_KINDS, VOID
from tooling.calc.entry import Entry as Fact
from tooling.calc.fold import fold
from tooling.calc.membership import TwoMolds, reached, stays, uses
from tooling.calc.order import effective
from tooling.calc.state import State
from tooling.models import Entry, Kind, ReleaseSystem, Tool
from tooling.selectors.history import History, system_code
from tooling.services.absorb import Rules, is_next
from tooling.services.families import Family

# Deeds on a release surface; a trim mask has none, yet it too is held, looked at and retired.
WITHOUT_SURFACE = frozenset({"hold", "inspected", "retired", "reinstated"})
ON_MASKS_ONLY = frozenset({"used", "check"})


def check_kinds(entry: Entry) -> None:
    """Refuses what cannot be done to a tool of this kind."""
    tool, kind = entry.tool, entry.kind
    if kind in INSERT_KINDS and tool.kind != Kind.INSERT:
        raise Refused(_("Only a mold insert is installed and removed. %(tool)s is none.") % {"tool": tool}, "entry")
    if kind == "installed" and entry.mold is None:
        raise Refused(_("Say which mold it is installed in."), "mold")
    if entry.mold is not None and entry.mold.kind not in Kind.TAKES_INSERTS:
        raise Refused(_("%(tool)s is no mold: a mold insert goes into a mold.") % {"tool": entry.mold}, "mold")
    if kind in RELEASE_KINDS - WITHOUT_SURFACE and not tool.has_surface:
        message = _("%(tool)s is a trim mask: it has no release surface, so this cannot be written of it.")
        raise Refused(message % {"tool": tool}, "entry")
    if kind in ON_MASKS_ONLY and tool.has_surface:
        raise Refused(_("Only of a trim mask this can be written. %(tool)s is none.") % {"tool": tool}, "entry")


def check_system(entry: Entry) -> None:
    """Refuses a release recipe that the shop does not have."""
    code = entry.release_system
    if entry.kind == "release_system" and not code:
        raise Refused(_("Say which release recipe it has from now on."), "release_system")
    if code and not ReleaseSystem.objects.filter(code=code).exists():
        message = _("There is no release recipe %(code)s. Choose one of the shop's, or make it first.")
        raise Refused(message % {"code": code}, "release_system")


def check_history(family: Family, made: Fact, target: Entry | None, rules: Rules) -> None:
    """Refuses what does not fit the history: the calc rules, each with what it has to know."""
    kinds = {made.kind}
    if made.kind == VOID or made.replaces is not None:
        fact = target.as_calc() if target is not None else None
        gone = Entry.objects.filter(Q(voids=target) | Q(replaces=target)) if target is not None else []
        check.check_target(made, fact, [entry.as_calc() for entry in gone])
        kinds.add(target.kind if target is not None else "")
    if made.kind == "starting_state":
        starts = Entry.objects.filter(tool=family.tool.tool_id, kind="starting_state").standing()
        check.check_one_start(made, [entry.as_calc() for entry in starts])
    if made.surface is not None and made.surface != made.tool:
        check.check_surface(made, reach(family, made, rules))
    if made.kind == "release_system":
        check.check_other_system(made, system_in_force(family.tool.tool, made, rules))
    if kinds & INSERT_KINDS:
        check_one_mold(made, History(rules.book, rules.zone).log(family.tool.tool_id))


def check_one_mold(made: Fact, log: list[Fact]) -> None:
    """Refuses what would put an insert into two molds at once."""
    try:
        stays(effective([*log, made]))
    except TwoMolds as two:
        raise Refusal("two_molds", "mold", other=str(Tool.objects.get(pk=str(two.other)))) from two


def reach(family: Family, made: Fact, rules: Rules) -> list[int]:
    """The inserts that a use of the family's mold reaches."""
    if made.kind not in USE_KINDS:
        return []
    mold = family.tool.tool_id
    if is_next(family, made, rules.now):
        return [one.tool_id for one in family.installed(mold)]
    history = History(rules.book, rules.zone)
    history.read([mold, *family.inserts])
    instants = next(use.instants for use in uses(effective([*history.log(mold), made])) if use.placed[2] is made)
    return [insert for insert in family.inserts if reached(history.stays(insert), mold, instants)]


def system_in_force(tool: Tool, made: Fact, rules: Rules) -> str | None:
    """The recipe in force at a drafted entry's place in the history."""
    return state_before(tool, made, rules).system


def state_before(tool: Tool, made: Fact, rules: Rules) -> State:
    """The state of the tool's surface just before a drafted entry."""
    history = History(rules.book, rules.zone)
    history.log(tool.pk).append(made)
    sequence = history.sequence(tool)
    place = next(index for index, placed in enumerate(sequence) if placed[2] is made)
    return fold(sequence[:place], tool.pk, system_code(tool), rules.book, rules.zone).state
