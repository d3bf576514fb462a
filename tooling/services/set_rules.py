"""What cannot stand in a tool set, each with a sentence that says what to change: for the services and the sheet."""

from collections.abc import Callable, Iterable, Mapping

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from shared.errors import Refused
from tooling.models import PartRevision, SetLine, SetRole, Summary, Tool
from tooling.selectors.matched import halves_of
from tooling.words.terms import KINDS, term

_ONLY = {
    SetRole.MOLD: gettext_lazy("Only a mold can stand here as a mold; %(tool)s is a %(kind)s."),
    SetRole.INSERT: gettext_lazy("Only a mold insert can stand here as a mold insert; %(tool)s is a %(kind)s."),
    SetRole.TRIM_MASK: gettext_lazy("Only a trim mask can stand here as a trim mask; %(tool)s is a %(kind)s."),
}


def role_of(tool: Tool) -> SetRole:
    """What a tool is for in a set: its kind says it. Refused for a plug."""
    role = next((role for role, kind in SetRole.TAKES.items() if kind == tool.kind), None)
    if role is None:
        text = _("%(tool)s is a %(kind)s: only molds, mold inserts and trim masks stand in a tool set.")
        raise Refused(text % {"tool": tool.code, "kind": term(KINDS, tool.kind)}, "tool")
    return SetRole(role)


def wrong_with(role: str, tool: str, kind: str, item: str) -> tuple[str, str] | None:
    """What no line of a set can say, as column and sentence; None where it can. kind: "" where nobody knows it."""
    if role == SetRole.HARDWARE:
        if tool:
            return "tool", _("Hardware is said in words: leave the tool empty.")
        return None if item else ("item", _("Say in words what hardware it is."))
    if not tool:
        return "tool", _("Say which tool it is.")
    if item:
        return "item", _("Only hardware is said in words: leave this empty.")
    if kind and kind != SetRole.TAKES[role]:
        return "tool", str(_ONLY[SetRole(role)]) % {"tool": tool, "kind": term(KINDS, kind)}
    return None


def retired(tool: str) -> str:
    """Why a retired tool does not come into a set."""
    return _("%(tool)s is retired. Choose another tool, or reinstate it first.") % {"tool": tool}


def alone(half: str, others: Iterable[str]) -> str:
    """Why one half does not come into a set, nor stay in it, by itself."""
    text = _("%(tool)s closes on one part with %(others)s: they stand in a set together or not at all.")
    return text % {"tool": half, "others": ", ".join(others)}


def never_instead(one: str, other: str) -> str:
    """Why two halves are no alternatives."""
    text = _("%(tool)s and %(other)s close on one part: both are needed, and neither stands in for the other.")
    return text % {"tool": one, "other": other}


def one_for_one(tool: str, other: str, half: str) -> str:
    """Why a mold does not stand in for one half alone."""
    text = _(
        "%(other)s closes on one part with %(half)s: %(tool)s stands in for it only where a half that closes with "
        "%(tool)s stands in for %(half)s."
    )
    return text % {"tool": tool, "other": other, "half": half}


def wrong_with_halves(
    code: str, words: Mapping[str, str | None], halves: Callable[[str], Iterable[str]]
) -> tuple[str, str, str] | None:
    """What a mold cannot say beside the others of its set: as column, sentence, and the other mold that it is about.

    words: the molds of the set that are in use, by code, with what each is an alternative of; None where nobody knows.
    halves: the others that close on one part with a mold. Of two that do not go together each says so.
    """
    mine = list(halves(code))
    missing = [half for half in mine if half not in words]
    if missing:
        return "tool", alone(code, missing), ""
    for rival in (one for one in words if one != code and _alike(words[code], words[one])):
        theirs = list(halves(rival))
        if rival in mine:
            return "alternative", never_instead(code, rival), rival
        for tool, other, own, those in ((rival, code, mine, theirs), (code, rival, theirs, mine)):
            lacking = next((half for half in own if not _covered(half, those, words)), None)
            if lacking is not None:
                return "alternative", one_for_one(tool, other, lacking), rival
    return None


def _covered(half: str, those: Iterable[str], words: Mapping[str, str | None]) -> bool:
    """Whether one of those stands in for a half, or may: of what is missing, or not known, nothing is said."""
    word = words.get(half)
    said = [words[one] for one in those if one in words]
    return word is None or None in said or any(_alike(word, other) for other in said)


def _alike(one: str | None, other: str | None) -> bool:
    return bool(one and other) and str(one).casefold() == str(other).casefold()


def check_halves(line: SetLine) -> None:
    """Refuses a half without the others, and one that stands in for another without them. It is written already."""
    if line.role != SetRole.MOLD:
        return
    in_use = {"tool__summary__retired": False, "tool__summary__making": False}
    lines = line.revision.tool_set.filter(role=SetRole.MOLD, **in_use).select_related("tool").in_order()
    tools = {one.what: one.tool for one in lines if one.tool is not None}
    if line.what not in tools:
        return
    words = {one.what: one.alternative for one in lines}
    wrong = wrong_with_halves(line.what, words, lambda code: [half.code for half in halves_of(tools[code])])
    if wrong is not None:
        raise Refused(wrong[1], "tool" if wrong[0] == "tool" else "instead")


def check_new(revision: PartRevision, tool: Tool | None, item: str) -> None:
    """Refuses a tool that is retired, and what is there already."""
    if tool is None:
        check_item(revision, item)
        return
    if Summary.objects.filter(tool=tool, retired=True).exists():
        raise Refused(retired(tool.code), "tool")
    if revision.tool_set.filter(tool=tool).exists():
        text = _("%(tool)s is in this set already, where a tool stands once: change the line that is there.")
        raise Refused(text % {"tool": tool.code}, "tool")


def check_item(revision: PartRevision, item: str, but: SetLine | None = None) -> None:
    """Refuses hardware that is said in the set already, on another line than this."""
    known = revision.tool_set.exclude(item="")
    if but is not None:
        known = known.exclude(pk=but.pk)
    if item.casefold() in {one.casefold() for one in known.values_list("item", flat=True)}:
        raise Refused(_("This hardware is in the set already."), "item")


def missing_halves(revision: PartRevision, tool: Tool) -> list[Tool]:
    """The tools that close on one part with this one and are not in the set."""
    halves = halves_of(tool)
    there = set(revision.tool_set.filter(tool__in=halves).values_list("tool", flat=True)) if halves else set()
    return [half for half in halves if half.pk not in there]


def would_be_alone(line: SetLine) -> list[SetLine]:
    """The lines of the set whose tools close on one part with this one."""
    tool = line.tool
    if tool is None or not Summary.objects.filter(tool=tool, retired=False, making=False).exists():
        return []
    halves = [half.pk for half in halves_of(tool)]
    return list(line.revision.tool_set.filter(tool__in=halves).select_related("tool").order_by("pk"))
