"""What may have come off a plug or a mold, and what is proposed for it as a tool of its own."""

import re
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import timedelta

from django.core.exceptions import ValidationError
from django.utils.translation import gettext as _

from tooling.calc.entry import part_key
from tooling.models import Entry, Kind, MakingStep, Tool, check_code
from tooling.selectors.floor import Floor

# From these something comes off that is a tool itself.
SOURCES = frozenset({Kind.PLUG, Kind.MOLD})
# A pull that was written before: as long as what came off may still have to be brought in.
LATELY = timedelta(days=30)
OFFERED = 6
_MOST_TRIES = 200
_LIKE_THESE = 3


@dataclass(frozen=True, slots=True)
class Coming:
    """The tools in the making that may come off: `named` is the one that was laid up there by its code."""

    named: Tool | None
    others: tuple[Tool, ...]

    @property
    def all(self) -> tuple[Tool, ...]:
        """The named one first."""
        return (*((self.named,) if self.named is not None else ()), *self.others)


def coming_off(on: Floor) -> Coming:
    """Tools in the making that were laid up on it or are to be made from it, and came off nothing yet."""
    part = part_key(on.summary.part)
    making = Tool.objects.filter(summary__making=True, summary__retired=False).exclude(pk=on.tool.pk)
    found = list(making.filter(made_from=on.tool).order_by("code"))
    named = next((one for one in found if one.code == part), None)
    if named is None and part:
        named = making.filter(code=part, made_from=None).first()
    off = {part_key(entry.part) for entry in _pulls(on.tool).naming([one.code for one in found])} if found else set()
    others = [one for one in found if one != named and one.code not in off]
    return Coming(named, tuple(others))


def pulled_lately(on: Floor) -> Entry | None:
    """The last pull of it, where nothing is laid up there and no tool is known that came off then."""
    if on.part_in is not None:
        return None
    pull = _pulls(on.tool).filter(at__gt=on.at - LATELY).select_related("by", "tool").order_by("-at", "-pk").first()
    return pull if pull is not None and not (pull.part and Tool.objects.called(pull.part).exists()) else None


def _pulls(tool: Tool):  # type: ignore[no-untyped-def]
    return Entry.objects.filter(tool=tool, kind="pull").standing()


def laid_up_on() -> tuple[list[Tool], bool]:
    """Plugs on which something is laid up, the longest first, and whether there are other plugs and molds."""
    sources = Tool.objects.filter(kind__in=SOURCES, summary__retired=False).select_related("summary")
    on = sources.filter(kind=Kind.PLUG, summary__laid_up_at__isnull=False)
    return list(on.order_by("summary__laid_up_at", "code")[:OFFERED]), sources.exists()


def built_like(kind: str) -> list[str]:
    """How tools of a kind were built, each way once, the last first."""
    built = Tool.objects.filter(kind=kind).exclude(construction="").order_by("-pk")
    return list(dict.fromkeys(built.values_list("construction", flat=True)[:50]))[:OFFERED]


def step_off(kind: str, of: str) -> str:
    """The step at which a tool of a kind is once it is off: by its list, else in plain words.

    "" where the list has a step for which the pull itself stands.
    """
    listed = list(MakingStep.objects.filter(kind=kind).order_by("order", "id"))
    if any(step.by_entry == "pull" for step in listed):
        return ""
    plain = _("Off the plug") if of == Kind.PLUG else _("Off the mold")
    word = plain.split()[0].casefold()
    return next((step.name for step in listed if step.name.casefold().split()[0] == word), plain)


def made_before(source: Tool, kind: str) -> list[Tool]:
    """The last tools of a kind in use that came off it: another one is mostly like one of them."""
    made = Tool.objects.filter(made_from=source, kind=kind, summary__retired=False).select_related("summary")
    return list(made.order_by("-pk")[:_LIKE_THESE])


def next_code(source: Tool, kind: str, laid_up: str = "", like: Tool | None = None) -> str:
    """A code for what came off that is free: as it was laid up, else after the last of its kind; "" where none fits.

    like: after the code of that one, whatever was laid up.
    """
    made = Tool.objects.filter(made_from=source, kind=kind).order_by("-pk").values_list("code", flat=True)
    last, laid_up = (made.first(), laid_up) if like is None else (like.code, "")
    for code in _codes(source.code, kind, last, part_key(laid_up)):
        try:
            check_code(code)
        except ValidationError:
            continue
        if not Tool.objects.called(code).exists():
            return code
    return ""


def _codes(source: str, kind: str, last: str | None, laid_up: str) -> Iterator[str]:
    if laid_up:
        yield laid_up
    code = last or _of_kind(source, kind)
    if last is None:
        yield code
    for _try in range(_MOST_TRIES):
        code = _after(code)
        yield code


def _of_kind(source: str, kind: str) -> str:
    """14-PLUG: 14-MOLD. The shop has its own way: it is only proposed."""
    words = {Kind.MOLD: "MOLD", Kind.INSERT: "INSERT", Kind.TRIM_MASK: "TRIM", Kind.PLUG: "PLUG"}
    if "PLUG" in source and kind != Kind.PLUG:
        return source.replace("PLUG", words[Kind(kind)], 1)
    return source if kind == Kind.MOLD else f"{source}-{words[Kind(kind)]}"


def _after(code: str) -> str:
    """DECK-2B: DECK-2C; HULL-9: HULL-10; HULL520: HULL520-2."""
    if counted := re.fullmatch(r"(.*-)(\d{1,2})", code):
        return f"{counted[1]}{int(counted[2]) + 1:0{len(counted[2])}d}"
    if lettered := re.fullmatch(r"(.*\d)([A-Y])", code):
        return lettered[1] + chr(ord(lettered[2]) + 1)
    return f"{code}-2"
