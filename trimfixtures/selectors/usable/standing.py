"""How each trim mask stands that may be used."""

from tooling.selectors.usable.asked import Asked
from trimfixtures.selectors.usable.read import checks_of, masks_of
from trimfixtures.words import standing as words


def stands(asked: Asked) -> dict[int, str]:
    """Its stage and how many parts to its next check, by the key of its tool."""
    of_each = masks_of(asked)
    return {key: words.stands(one, of_each.get(key)) for key, one in checks_of(asked).items()}
