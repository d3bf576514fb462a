"""The small marks of the trim bench: how a cut went."""

# The trim mask from above, hatched, and the part below it; between them the cutter's round and its way.
_MASK = (
    '<path class="m-mold" d="M2 22H102"/>'
    '<path class="m-hatch" d="M10 10l8 -10M28 16l12 -16M50 16l12 -16M72 16l12 -16M92 12l8 -10"/>'
)
_ROUND = '<path class="m-fine" d="M{x} {y}m-11 0a11 11 0 1 0 22 0a11 11 0 1 0 -22 0Z"/>'
_OUTCOMES = {
    "good": '<path class="m-part" d="M2 50H62"/>' + _ROUND.format(x=76, y=39),
    "gouged": '<path class="m-part" d="M2 50H24Q30 50 32 60Q38 76 46 60Q48 50 54 50H62"/>' + _ROUND.format(x=76, y=39),
    "slipped": '<path class="m-part" d="M2 50H26Q36 50 48 62Q58 72 68 74"/>' + _ROUND.format(x=84, y=65),
    "off_size": '<path class="m-part" d="M2 50H102"/><path class="m-fine" d="M2 66H102" stroke-dasharray="7 6"/>'
    '<path class="m-fine" d="M52 53V63M47 58l5 5 5-5"/>',
}


def outcome_mark(word: str) -> str:
    """One of the four: the cut below a trim mask. Its word stands beside it, so it says nothing itself."""
    drawn = _MASK + _OUTCOMES[word]
    return f'<svg class="mark" viewBox="-4 -4 112 88" aria-hidden="true" focusable="false">{drawn}</svg>'
