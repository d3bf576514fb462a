"""The cautions of trimming with trim masks, by the ways of cutting that their cuts have."""

from collections.abc import Collection

from tooling.words.cautions import Caution
from trimfixtures.models import Feature, Mask
from trimfixtures.words import cautions as words


def at_work(tools: Collection[int]) -> list[Caution]:
    """Of trim masks, by the keys of their tools, in two queries."""
    methods = Feature.objects.filter(mask__tool__in=tools).order_by().values_list("method", flat=True).distinct()
    seals = Mask.objects.filter(tool__in=tools).values_list("seal_edge", flat=True)
    return words.at_work(set(methods), seals)
