"""What somebody has tried in the demo."""

from dataclasses import dataclass

from tooling.models import STRIP, Entry, Person, Shop, Tried
from tooling.words.demo import STEPS, Step


@dataclass(frozen=True, slots=True)
class Tick:
    """A step, and whether it is done. `seen`: an entry shows it, so that nobody has to tick it."""

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
    """The steps of the person's role, in two queries. The shop is a demo."""
    tapped = set(Tried.objects.filter(person=person).values_list("step", flat=True))
    wrote = Entry.objects.filter(recorded_by=person, recorded_at__gt=shop.demo_since)
    kinds = set(wrote.order_by().values_list("kind", flat=True).distinct())
    each = [Tick(one, one.kind in kinds or one.key in tapped, one.kind in kinds) for one in STEPS.get(person.role, ())]
    return Ticks(each, STRIP not in tapped)


def strip_wanted(person: Person, shop: Shop) -> bool:
    """Whether the first page leads to what to try: in a demo, until the person put the strip away."""
    return shop.demo_since is not None and not Tried.objects.filter(person=person, step=STRIP).exists()
