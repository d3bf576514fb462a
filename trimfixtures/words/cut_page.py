"""What the page says on which a trim mask is described."""

from collections.abc import Sequence

from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from tooling.words.counting import capital
from trimfixtures.models import Feature, FeatureKind, Mask


def sits(mask: Mask) -> list[str]:
    """What is said of it already, in short: Net cut; by pin and slot; held by vacuum; checked every 12 parts."""
    every = mask.check_every
    said = (
        capital(str(mask.get_stage_display())),
        _("set by %(datum)s") % {"datum": mask.datum} if mask.datum else "",
        _("held by %(what)s") % {"what": mask.held_by} if mask.held_by else "",
        ngettext("checked after every part", "checked every %(n)d parts", every) % {"n": every} if every else "",
    )
    return [words for words in said if words]


def before_the_edge(cuts: Sequence[Feature]) -> str:
    """What to think of where an edge is cut before something inside; "" where it is last."""
    edge = next((place for place, cut in enumerate(cuts) if cut.kind == FeatureKind.EDGE), len(cuts))
    later = [cut for cut in cuts[edge + 1 :] if cut.kind != FeatureKind.EDGE]
    if not later:
        return ""
    text = _(
        "“%(edge)s” is cut before “%(later)s”. An edge comes last as a rule, since what is cut free lies less firm "
        "(common practice, no source)."
    )
    return text % {"edge": cuts[edge], "later": later[0]}
