"""Which uses of a tool are in doubt: since somebody looked and it passed, or while a lot lay on its surface."""

from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass

from tooling.calc.makings import Making
from tooling.calc.order import Key, Placed, by_key

# What may carry a lot, and with what it is off the surface again, where all of that is done. A strip takes wax and film
# off, and no filler; what a tool is built of stays.
_OFF = {
    "sealer": frozenset({"strip", "repair", "polish", "resurfaced"}),
    "coat": frozenset({"strip", "repair", "polish", "resurfaced"}),
    "film": frozenset({"strip", "repair", "polish", "resurfaced"}),
    "repair": frozenset({"repair", "resurfaced"}),
    "polish": frozenset({"repair", "resurfaced"}),
    "resurfaced": frozenset({"resurfaced"}),
    "making": frozenset(),
}
LOT_KINDS = frozenset(_OFF)


@dataclass(frozen=True, slots=True)
class Stretch:
    """From one entry of a tool to another, neither included; None is open. `since`: what ends the doubt before it."""

    since: Placed | None
    until: Placed | None = None

    def meets(self, making: Making) -> bool:
        """Whether the part was in the tool in this stretch, or for some of it."""
        last = _last(making)
        return (self.since is None or last is None or last > by_key(self.since)) and (
            self.until is None or by_key(making.first) < by_key(self.until)
        )


def looked_around(own: Iterable[Placed], doubt: Key, looks: Collection[str], first: Collection[str] = ()) -> Stretch:
    """From the last look before a doubt to the first after it; where there was none before, from what is `first`.

    Parameters:
        own [-]: the tool's own standing entries, in order.
        doubt [-]: the turn of the entry that puts it in doubt.
        looks [word]: the kinds of entries that clear it where they passed.
        first [word]: the kinds that say it was good when it came into use.

    Returns:
        [-] the stretch; open where nobody looked and passed it.

    Source: the house's own rules.
    """
    passed = begun = None
    for one in own:
        clears = one[2].kind in looks and one[2].passed is True
        if by_key(one) > doubt:
            if clears:
                return Stretch(passed or begun, one)
        elif clears:
            passed = one
        elif one[2].kind in first:
            begun = one
    return Stretch(passed or begun)


def lying(own: Sequence[Placed], put_on: Collection[int], makings: Sequence[Making]) -> list[Stretch]:
    """While each of some entries' lot lay on the surface: until all of it was taken off, however much went over it.

    A film goes with the part that is laid up on it, and so no further than to the next one.

    Parameters:
        own [-]: the tool's own standing entries, in order.
        put_on [-]: the ids of those that put it on.
        makings [-]: the parts that went through the tool.

    Returns:
        [-] a stretch for each, begun by its entry.

    Source: the house's own rules; a coat over another is no proof that the lower one is gone.
    """
    found = []
    for place, one in enumerate(own):
        if one[2].id not in put_on:
            continue
        ends = _OFF.get(one[2].kind, frozenset())
        off = next((end for end in own[place + 1 :] if end[2].kind in ends and _is_whole(end)), None)
        if one[2].kind == "film":
            off = min((end for end in (off, _second_use(one, makings)) if end is not None), key=by_key, default=None)
        found.append(Stretch(one, off))
    return found


def bare_to_parts(own: Sequence[Placed], stretch: Stretch, others: Collection[int]) -> Stretch:
    """The first of a stretch: until the whole was coated out of another lot, so that the parts met that coat instead.

    A coat of which nobody said the lot may be of the same one, and one of a spot leaves the rest as it is. What is no
    coat is not covered: it is there all the stretch.

    Parameters:
        own [-]: the tool's own standing entries, in order.
        stretch [-]: while a lot lay on the surface, begun by what put it on.
        others [-]: the ids of the coats that name another lot.

    Returns:
        [-] that stretch, or the first of it.

    Source: the house's own rules.
    """
    put = stretch.since
    if put is None or put[2].kind != "coat":
        return stretch
    over = (one for one in own if one[2].id in others and one[2].kind == "coat" and _is_whole(one))
    after = next((one for one in over if by_key(one) > by_key(put)), None)
    if after is None or (stretch.until is not None and by_key(stretch.until) < by_key(after)):
        return stretch
    return Stretch(put, after)


def _is_whole(placed: Placed) -> bool:
    return placed[2].kind == "resurfaced" or placed[2].area == "whole"


def _second_use(film: Placed, makings: Sequence[Making]) -> Placed | None:
    after = sorted((one.first for one in makings if by_key(one.first) > by_key(film)), key=by_key)
    return after[1] if len(after) > 1 else None


def _last(making: Making) -> Key | None:
    """The turn at which it left the tool, None for a part that is still in."""
    if making.end is not None:
        return making.end[:2]
    if not making.over:
        return None
    at, first, _entry = making.done or making.first
    return at, first
