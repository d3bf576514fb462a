"""The families of reasons of trim masks, in the order in which they are said, and how one stands that may be used."""

from tooling.models import Kind
from tooling.selectors.usable import registry, rows, stands
from tooling.words.usable import also_against
from trimfixtures.selectors.usable import checks, cutters, described, read, standing
from trimfixtures.words.usable import AGAINST


def make_known() -> None:
    """Called when the program starts."""
    rows.register_columns(Kind.TRIM_MASK, read.columns)
    for family in (checks, cutters, described):
        registry.register(family.reasons)
    stands.register(standing.stands)
    also_against(AGAINST)
