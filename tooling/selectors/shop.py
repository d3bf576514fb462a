"""Whether there is a shop here at all."""

from tooling.models import Person, Shop, Tool


def is_empty() -> bool:
    """True where nothing was written yet: no shop, no tool, no person."""
    return not any(model.objects.exists() for model in (Shop, Tool, Person))
