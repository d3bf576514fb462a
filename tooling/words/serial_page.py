"""What made a serial number, mold by mold and cut by cut, as its page shows it."""

from dataclasses import dataclass
from typing import Any

from django.utils.translation import gettext as _

from tooling.words.serials import Said, age, around_said, came_off, coats_said, counted, outcome, stood, stood_at_pull
from tooling.words.status import Sentence
from tooling.words.terms import KINDS, OUTCOMES, term


@dataclass(frozen=True, slots=True)
class SurfaceSaid:
    """One surface in words: how it stood at the lay-up and at the pull, what was on it, and what stood around it."""

    surface: Any
    kind: str
    at_lay_up: Sentence | None
    at_pull: str
    coats: list[str]
    counted: str
    came_off: str
    around: list[str]


@dataclass(frozen=True, slots=True)
class MadeSaid:
    """One mold that made it, in words."""

    made: Any
    laid_up: str
    outcome: str
    surfaces: list[SurfaceSaid]


def made_said(made: Any, said: Said) -> MadeSaid:
    """What stands of a mold that made it."""
    lay_up = made.making.lay_up
    laid_up = _("Laid up: %(when)s.") % {"when": said.by(lay_up[2])} if lay_up is not None else _no_lay_up()
    return MadeSaid(made, laid_up, outcome(made.making, said), [_surface(one, said) for one in made.surfaces])


def _no_lay_up() -> str:
    return _("Nobody wrote its lay-up down.")


def _surface(one: Any, said: Said) -> SurfaceSaid:
    kind, before = one.tool.kind, one.at_lay_up
    return SurfaceSaid(
        one,
        term(KINDS, kind),
        stood(before, kind, said.zone) if before is not None else None,
        stood_at_pull(one.at_pull, kind, said.zone) if one.at_pull is not None else "",
        [*coats_said(one, said), *([age(one)] if age(one) else [])],
        counted(one),
        came_off(one.came_off) if one.came_off else "",
        around_said(one.around, said),
    )


@dataclass(frozen=True, slots=True)
class TrimSaid:
    """A cut against a trim mask, in words."""

    tool: Any
    when: str
    around: list[str]


def trim_said(trimmed: Any, said: Said) -> TrimSaid:
    """What stands of a cut."""
    said_of = {
        "when": said.by(trimmed.used),
        "how": term(OUTCOMES, said.story.entry(trimmed.used).payload.get("outcome", "")),
    }
    when = (_("Trimmed, %(how)s: %(when)s.") if said_of["how"] else _("Trimmed: %(when)s.")) % said_of
    return TrimSaid(trimmed.tool, when, around_said(trimmed.around, said))
