"""Which of several alternatives of a tool set is the more usable, and why."""

from tooling.models import SetLine, SetRole
from tooling.selectors.usable.asked import Asked
from tooling.selectors.usable.reason import LEAD, Reason
from tooling.words import tool_set as words

# Reasons that no work in the shop mends.
_HARD = frozenset({"retired", "making", "too_hot", "recipe_too_hot", "wrong_hand", "not_confirmed", "half_missing"})
Rank = tuple[int, int, int, int, int]


class Ranks:
    """Puts lines in order. Halves that close on one part stand or fall together."""

    def __init__(self, asked: Asked, found: dict[int, list[Reason]]) -> None:
        """Molds are to be put in order first: what goes with them is nearer in the mold that was chosen."""
        self.asked, self.found = asked, found
        self._chosen: set[int | None] = set()

    def ordered(self, group: list[SetLine]) -> tuple[list[SetLine], str]:
        """The lines, the most usable first, and why that one; "" where there is no choice."""
        if len(group) == 1 or group[0].role == SetRole.HARDWARE:
            ordered = group
        else:
            ordered = sorted(group, key=self._rank)
        if group[0].role == SetRole.MOLD:
            self._chosen.add(ordered[0].tool_id)
        return ordered, self._why(ordered) if len(ordered) > 1 else ""

    def _rank(self, line: SetLine) -> Rank:
        """Lower is better: in the chosen mold, nothing against it, nothing that work cannot mend, fewer, more pulls."""
        stops = self._stops(line)
        hard = sum(one.code in _HARD or one.override == LEAD for one in stops)
        mold = self.asked.whereabouts[line.tool_id].mold if line.tool_id is not None else None
        elsewhere = line.role == SetRole.INSERT and (mold is None or mold.pk not in self._chosen)
        return int(elsewhere), int(bool(stops)), hard, len(stops), -self._pulls(line)

    def _stops(self, line: SetLine) -> list[Reason]:
        return [one for pk in self._halves(line) for one in self.found[pk] if one.stops]

    def _pulls(self, line: SetLine) -> int:
        every = (surface for pk in self._halves(line) for surface in self.asked.surfaces.get(pk, ()))
        return min((surface.status.pulls_left for surface in every), default=0)

    def _halves(self, line: SetLine) -> list[int]:
        """The tool of a line with those of the set that close on one part with it."""
        tool = line.tool
        if tool is None:
            return []
        if not tool.matched_set:
            return [tool.pk]
        others = (one.tool for one in self.asked.tool_set if one.role == line.role)
        return [one.pk for one in others if one is not None and one.matched_set == tool.matched_set]

    def _why(self, ordered: list[SetLine]) -> str:
        """In words, by where the first differs from the next."""
        first, others = ordered[0].what, [line.what for line in ordered[1:]]
        if ordered[0].role == SetRole.HARDWARE:
            return words.alike(first)
        ranks = [self._rank(line) for line in ordered]
        best, after = ranks[0], ranks[1]
        mold = self.asked.whereabouts[ordered[0].tool_id].mold  # type: ignore[index]
        if best[0] < after[0] and mold is not None:
            return words.first_in_mold(first, mold.code)
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
