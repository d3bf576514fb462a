"""What somebody ticks of the demo's steps; no part of any history."""

from django.utils.translation import gettext as _

from shared.errors import Refused
from tooling.models import STRIP, Person, Shop, Tried
from tooling.words.demo import STEPS


def tick(person: Person, step: str, *, done: bool) -> None:
    """Keeps that a step was tried, or the strip put away; or takes that back. Twice is harmless."""
    if step not in {STRIP, *(one.key for one in STEPS.get(person.role, ()))}:
        raise Refused(_("There is no such step."))
    if done:
        Tried.objects.get_or_create(person=person, step=step)
    else:
        Tried.objects.filter(person=person, step=step).delete()


def opened(person: Person, step: str, shop: Shop) -> None:
    """Keeps that a step was tried whose page was opened, which is all there is to it; only in a demo, for its roles."""
    if shop.demo_since is not None and step in {one.key for one in STEPS.get(person.role, ())}:
        tick(person, step, done=True)
