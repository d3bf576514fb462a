"""What somebody has tried in the demo."""

from dataclasses import dataclass

from django.db.models import Q

from tooling.models import STRIP, Entry, Person, Shop, TagRun, Tried
from tooling.words.demo import STEPS, Step


@dataclass(frozen=True, slots=True)
class Tick:
    """A step, and whether it is done. `seen`: an entry or a print shows it, so that nobody has to tick it."""

    step: Step
    done: bool
    seen: bool


@dataclass(frozen=True, slots=True)
class Ticks:
    """The five steps of a person, and whether the strip on the first page leads there."""

    each: list[Tick]
    strip: bool

    @property
    def done(self) -> int:
        """How many."""
        return sum(one.done for one in self.each)


def ticks(person: Person, shop: Shop) -> Ticks:
    """The steps of the person's role, in three queries at most. The shop is a demo."""
    tapped = set(Tried.objects.filter(person=person).values_list("step", flat=True))
    wrote = Entry.objects.filter(recorded_by=person, recorded_at__gt=shop.demo_since)
    deeds = wrote.order_by().annotate(corrects=Q(replaces__isnull=False))
    kinds, corrected = set(), False
    for kind, corrects in deeds.values_list("kind", "corrects").distinct():
        kinds.add(kind)
        corrected = corrected or corrects
    mine = STEPS.get(person.role, ())
    printed = any(one.prints for one in mine) and TagRun.objects.filter(by=person, at__gt=shop.demo_since).exists()
    steps = [(one, one.kind in kinds or (one.corrects and corrected) or (one.prints and printed)) for one in mine]
    return Ticks([Tick(one, seen or one.key in tapped, seen) for one, seen in steps], STRIP not in tapped)


def strip_wanted(person: Person, shop: Shop) -> bool:
    """Whether the first page leads to what to try: in a demo, until the person put the strip away."""
    return shop.demo_since is not None and not Tried.objects.filter(person=person, step=STRIP).exists()
