"""Which molds close on one part, as the shop and the sheets of an import say it together."""

from collections import defaultdict

from django.db.models import Q

from tooling.models import Kind, Tool
from tooling.services.sheets import tools
from tooling.services.sheets.table import Load


class Halves:
    """The matched sets of all molds in use. A tool whose history comes in with them may be retired there.

    out: the codes of molds that are retired or in the making.
    """

    def __init__(self, load: Load) -> None:
        """Reads the molds of the shop, once each."""
        lines, self.is_export = load.kept["history"]
        self.out = {str(line.fact.tool) for line in lines if line.fact.kind in ("retired", "making")}
        molds = Tool.objects.filter(kind=Kind.MOLD)
        in_use = Q(summary__retired=False, summary__making=False)
        self.out |= set(molds.exclude(in_use).values_list("code", flat=True))
        sets = dict(molds.filter(in_use).exclude(matched_set="").values_list("code", "matched_set"))
        for row in tools.taken(load).rows:
            if row["kind"] == Kind.MOLD and row["in_making"]:
                self.out.add(row["code"])
            elif row["kind"] == Kind.MOLD and row["matched_set"]:
                sets[row["code"]] = row["matched_set"]
        self._set_of = {code: named for code, named in sets.items() if code not in self.out}
        self._codes: dict[str, list[str]] = defaultdict(list)
        for code in sorted(self._set_of):
            self._codes[self._set_of[code]].append(code)

    def others(self, code: str) -> list[str]:
        """The other halves of a mold."""
        return [one for one in self._codes.get(self._set_of.get(code, ""), ()) if one != code]
