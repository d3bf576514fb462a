"""The steps in which a shop builds a tool of a kind: a list that is kept whole, and starter lists to begin with."""

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Any

from django.db import transaction
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from shared.errors import Refused
from tooling.models import Kind, MakingStep, Shop
from tooling.services.making_rules import wrong_with

LONGEST_NAME, LONGEST_NOTE = 80, 200
# More than anybody reads in one line.
MOST_STEPS = 40


@dataclass(frozen=True, slots=True)
class Step:
    """A step as a list says it. by_entry: the entry that it is logged as, where it is one that is written anyway.

    work: what is done at it, of a starter list alone, so that the cautions of that work stand there.
    """

    name: Any
    by_entry: str = ""
    note: Any = ""
    work: str = field(default="", compare=False)


# A time that is up never says that it is hard: that is seen, as a step of its own.
_CURES = (
    Step(gettext_lazy("Curing"), "", gettext_lazy("Its supplier’s data sheet says how long, and how warm.")),
    Step(gettext_lazy("Found hard"), "", gettext_lazy("Looked at: hard as its sheet says. No clock says that.")),
)
# Common practice, without a source: each shop builds in steps of its own.
STARTERS: dict[str, tuple[Step, ...]] = {
    Kind.PLUG: (
        Step(gettext_lazy("On its base"), work="frame"),
        Step(gettext_lazy("Roughed"), work="machining"),
        Step(gettext_lazy("Skinned"), work="skin"),
        Step(gettext_lazy("Cut fine"), work="machining"),
        Step(gettext_lazy("Filled"), work="filler"),
        Step(gettext_lazy("Primed"), work="primer"),
        Step(gettext_lazy("Sanded"), work="sanding"),
        Step(gettext_lazy("Surface measured"), "reading", gettext_lazy("Waviness and gloss, before anything goes on.")),
        Step(gettext_lazy("Sealed"), "sealer"),
        Step(gettext_lazy("Release coats on"), "coat"),
    ),
    Kind.MOLD: (
        Step(gettext_lazy("Laid up on the plug"), "lay_up"),
        *_CURES,
        Step(gettext_lazy("Framed"), work="frame"),
        Step(gettext_lazy("Off the plug"), "pull"),
        Step(gettext_lazy("Edges cut"), work="machining"),
        Step(gettext_lazy("Polished"), work="sanding"),
        Step(gettext_lazy("Surface measured"), "reading"),
    ),
    Kind.INSERT: (
        Step(gettext_lazy("Laid up on the plug"), "lay_up"),
        *_CURES,
        Step(gettext_lazy("Off the plug"), "pull"),
        Step(gettext_lazy("Cut to fit"), work="machining"),
        Step(gettext_lazy("Tried in its mold")),
        Step(gettext_lazy("Polished"), work="sanding"),
    ),
    Kind.TRIM_MASK: (
        Step(gettext_lazy("Laid up over a part"), work="laminate"),
        *_CURES,
        Step(gettext_lazy("Off the part")),
        Step(gettext_lazy("Cut to the line"), work="machining"),
        Step(gettext_lazy("Datum set")),
        Step(gettext_lazy("Edge sealed"), work="laminate"),
        Step(gettext_lazy("Trial cut checked")),
    ),
}


def work_of(name: str) -> str:
    """What is done at a step that is called as one of a starter list; "" where nobody can say."""
    works = {str(one.name).upper(): one.work for steps in STARTERS.values() for one in steps}
    return works.get(name.upper(), "")


def is_starter(kind: str, steps: Sequence[Step]) -> bool:
    """Whether one of these is still called as in the starter list of the kind."""
    common = {str(one.name).upper() for one in STARTERS[kind]}
    return any(str(one.name).upper() in common for one in steps)


def steps_of(kind: str) -> list[Step]:
    """The list of a kind, in its order."""
    rows = MakingStep.objects.filter(kind=kind).order_by("order", "id")
    return [Step(row.name, row.by_entry, row.note) for row in rows]


@transaction.atomic
def set_steps(kind: str, steps: Sequence[Step], *, read: Sequence[Step] | None = None) -> list[Step]:
    """The list of a kind is from now on this one, in this order; tools keep the steps that were written of them.

    Order: lock the list; refuse what cannot stand there, and what was changed since it was `read`; write it whole.
    A refusal names its field with the place in the list: `name.2`.
    """
    Shop.lock()
    stands, wanted = steps_of(kind), [_tidy(one) for one in steps]
    if wanted == stands:
        return stands
    _check(kind, wanted)
    if read is not None and list(read) != stands:
        raise Refused(_("Somebody changed these steps meanwhile. Look at them as they are now, then change them."))
    MakingStep.objects.filter(kind=kind).delete()
    MakingStep.objects.bulk_create(
        MakingStep(kind=kind, order=place, name=one.name, by_entry=one.by_entry, note=one.note)
        for place, one in enumerate(wanted, 1)
    )
    return wanted


def add_starter(kind: str) -> list[Step]:
    """A kind without steps begins with those of its starter list; one that has some keeps them."""
    if MakingStep.objects.filter(kind=kind).exists():
        raise Refused(_("There are steps already. Change those, or take them all out first."))
    return set_steps(kind, STARTERS[kind], read=[])


def _tidy(step: Step) -> Step:
    name, note = (" ".join(str(text).split()) for text in (step.name, step.note))
    return Step(name, step.by_entry, note)


def _check(kind: str, steps: Sequence[Step]) -> None:
    if len(steps) > MOST_STEPS:
        raise Refused(_("That is more than %(most)d steps: put some of them together.") % {"most": MOST_STEPS})
    met: dict[str, int] = {}
    for place, step in enumerate(steps):
        if not step.name:
            raise Refused(_("Give the step a name, or take it out."), f"name.{place}")
        if "\x00" in step.name + step.note or len(step.name) > LONGEST_NAME or len(step.note) > LONGEST_NOTE:
            raise Refused(_("That is longer than the program can hold, or no plain text."), f"name.{place}")
        if met.setdefault(step.name.upper(), place) != place:
            raise Refused(_("“%(step)s” stands there twice.") % {"step": step.name}, f"name.{place}")
        for column, sentence in wrong_with({"kind": kind, "by_entry": step.by_entry}).items():
            raise Refused(sentence, f"{column}.{place}")
