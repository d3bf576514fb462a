"""The steps of a kind as they stood before a change, or when a page was shown: signed, in an address or a field."""

from collections.abc import Sequence

from django.core import signing
from django.core.signing import BadSignature

from tooling.services.deeds.undo import RUB_OUT_WITHIN
from tooling.services.making_steps import Step

_SALT = "tooling.making-steps"


def packed(kind: str, before: Sequence[Step], then: Sequence[Step]) -> str:
    """The list, and what it was made into, as a text that nobody else can make."""
    return signing.dumps([kind, _plain(before), _plain(then)], salt=_SALT, compress=True)


def steps_of(text: str, kind: str, stands: Sequence[Step]) -> list[Step] | None:
    """The list as it stood before; None where that is too long ago, or somebody changed it since."""
    try:
        of, before, then = signing.loads(text, salt=_SALT, max_age=RUB_OUT_WITHIN)
    except (BadSignature, ValueError):
        return None
    return _steps(before) if of == kind and then == _plain(stands) else None


def as_read(text: str, kind: str) -> list[Step] | None:
    """The list that a page has shown; None where its form has lost that."""
    try:
        of, read, _then = signing.loads(text, salt=_SALT)
    except (BadSignature, ValueError):
        return None
    return _steps(read) if of == kind else None


def _plain(steps: Sequence[Step]) -> list[list[str]]:
    return [[one.name, one.by_entry, one.note] for one in steps]


def _steps(rows: Sequence[Sequence[str]]) -> list[Step]:
    return [Step(*row) for row in rows]
