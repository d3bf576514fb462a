"""A trim mask of which nobody has said anything: neither how it sits nor what is cut with it."""

from collections.abc import Iterator

from django.urls import reverse

from tooling.models import Kind
from tooling.selectors.usable.asked import Asked
from tooling.selectors.usable.reason import Reason
from tooling.words.deeds import CUTS
from trimfixtures.selectors.usable.read import cuts_in, masks_of
from trimfixtures.words import usable as words


def reasons(asked: Asked) -> Iterator[tuple[int, Reason]]:
    """A note: somebody may know it by heart, but nothing here speaks for its use."""
    known, every = masks_of(asked), cuts_in(asked)
    for tool in asked.tools:
        if tool.kind != Kind.TRIM_MASK or every.get(tool.pk):
            continue
        mask = known.get(tool.pk)
        if mask is None or not (mask.datum or mask.held_by or mask.support):
            where = reverse("cuts", args=[tool.code])
            yield (
                tool.pk,
                Reason(
                    "not_described",
                    tool.code,
                    words.not_described(),
                    words.describe_it(),
                    CUTS,
                    stops=False,
                    where=where,
                ),
            )
