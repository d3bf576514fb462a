"""Which of several alternatives of a tool set is the more usable, and why."""

from tooling.models import SetLine, SetRole
from tooling.selectors.usable.asked import Asked
from tooling.selectors.usable.hand import fits
from tooling.selectors.usable.reason import LEAD, Reason
from tooling.selectors.usable.set_inserts import groups
from tooling.words import tool_set as words

# Reasons that no work in the shop mends.
_HARD = frozenset({"retired", "making", "too_hot", "recipe_too_hot", "wrong_hand", "not_confirmed", "half_missing"})
Rank = tuple[int, int, int, int, int]
# Where the first number of a rank comes from: it closes with nothing that was chosen, or is of another hand.
_APART, _OTHER_HAND = 2, 1


class Ranks:
    """Puts lines in order. Halves that close on one part stand or fall together.

    chosen: the molds, one of each group that was put in order.
    """

    def __init__(self, asked: Asked, found: dict[int, list[Reason]]) -> None:
        """Molds are to be put in order first: what goes with them is nearer in the mold that was chosen."""
        self.asked, self.found = asked, found
        self.chosen: list[SetLine] = []
        self._molds = groups([line for line in asked.tool_set if line.role == SetRole.MOLD])
        # Of which pair the molds are that are used, as far as is settled: those without an alternative are.
        self._closing = {group[0].what: _matched(group[0]) for group in self._molds if len(group) == 1}

    def ordered(self, group: list[SetLine]) -> tuple[list[SetLine], str]:
        """The lines, the most usable first, and why that one; "" where there is no choice."""
        ordered, why = group, ""
        if len(group) > 1 and group[0].role == SetRole.HARDWARE:
            why = words.alike(group[0].what)
        elif len(group) > 1:
            ranks = {line.pk: self._rank(line, group) for line in group}
            ordered = sorted(group, key=lambda line: ranks[line.pk])
            why = self._why(ordered, [ranks[line.pk] for line in ordered])
        if group[0].role == SetRole.MOLD:
            self.chosen.append(ordered[0])
            self._closing[ordered[0].what] = _matched(ordered[0])
        return ordered, why

    def _rank(self, line: SetLine, group: list[SetLine]) -> Rank:
        """Lower is better: with what was chosen, nothing against it, none that work cannot mend, fewer, more pulls."""
        stops = self._stops(line)
        hard = sum(one.code in _HARD or one.override == LEAD for one in stops)
        return self._beside(line, group), int(bool(stops)), hard, len(stops), -self._pulls(line)

    def _beside(self, line: SetLine, group: list[SetLine]) -> int:
        """Whether it goes with what is used beside it."""
        if line.role == SetRole.INSERT:
            mold = self.asked.whereabouts[line.tool_id].mold  # type: ignore[index]
            return int(mold is None or mold.pk not in {one.tool_id for one in self.chosen})
        if line.role != SetRole.MOLD:
            return 0
        closing = set(self._closing.values()) - {""}
        apart = bool(closing) and _matched(line) not in closing
        return _APART * apart + _OTHER_HAND * (not self._of_the_hand(line, group))

    def _of_the_hand(self, line: SetLine, group: list[SetLine]) -> bool:
        """Whether what goes with a mold is there in its hand."""
        halves, molds = self._halves(line), [line]
        for of in (one for one in self._molds if one != group):
            molds += [one for one in of if one.tool_id in halves] or of
        others = [one for one in self.asked.tool_set if one.role != SetRole.MOLD]
        needed = [of for of in groups(others) if any(one.required for one in of)]
        return all(any(fits(one, molds) for one in of) for of in needed)

    def _stops(self, line: SetLine) -> list[Reason]:
        return [one for pk in self._halves(line) for one in self.found[pk] if one.stops]

    def _pulls(self, line: SetLine) -> int:
        every = (surface for pk in self._halves(line) for surface in self.asked.surfaces.get(pk, ()))
        return min((surface.status.pulls_left for surface in every), default=0)

    def _halves(self, line: SetLine) -> list[int]:
        """The tool of a line with those of the set that close on one part with it: of two for one half the better."""
        if line.tool_id is None:
            return []
        found, pair = [line.tool_id], _matched(line) if line.role == SetRole.MOLD else ""
        for of in (one for one in self._molds if pair and line not in one):
            halves = [one.tool_id for one in of if one.tool_id is not None and _matched(one) == pair]
            found += sorted(halves, key=lambda pk: sum(one.stops for one in self.found[pk]))[:1]
        return found

    def _why(self, ordered: list[SetLine], ranks: list[Rank]) -> str:
        """In words, by where the first differs from the next."""
        first, others = ordered[0].what, [line.what for line in ordered[1:]]
        best, after = ranks[0], ranks[1]
        if best[0] < after[0]:
            return self._why_beside(ordered[0], best[0], after[0])
        if best[1] < after[1]:
            return words.first_usable(first, [line.what for line, rank in zip(ordered, ranks, strict=True) if rank[1]])
        worse = [line.what for line, rank in zip(ordered[1:], ranks[1:], strict=True) if rank[3] > best[3]]
        if best[2] < after[2]:
            return words.first_nearer(first)
        if best[3] < after[3]:
            return words.first_fewer_reasons(first, best[3], worse)
        if best[4] < after[4]:
            return words.first_more_pulls(first, -best[4], others)
        return words.alike(first)

    def _why_beside(self, line: SetLine, best: int, after: int) -> str:
        mold = self.asked.whereabouts[line.tool_id].mold  # type: ignore[index]
        if line.role == SetRole.INSERT and mold is not None:
            return words.first_in_mold(line.what, mold.code)
        if best < _APART <= after:
            own = _matched(line)
            return words.first_closes(line.what, [code for code, named in self._closing.items() if named == own])
        return words.first_of_hand(line.what)


def _matched(line: SetLine) -> str:
    return line.tool.matched_set if line.tool is not None else ""
