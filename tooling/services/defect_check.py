"""Defects and the entries that speak of them: the rows beside the entries say what those say, and nothing else."""

from collections.abc import Iterator

from django.utils.translation import gettext as _

from tooling.models import DefectMark, Entry, Summary
from tooling.selectors.defects import open_by_tool
from tooling.services.defects import Said, marks_of, speaking
from tooling.services.findings import Finding


def disagreements() -> Iterator[Finding]:
    """Entries whose lines of defects are not in the rows as they stand there, and wrong counts of open defects."""
    said: dict[int, set[Said]] = {entry.pk: marks_of(entry) for entry in speaking()}
    rows = DefectMark.objects.values_list("entry", "defect__number", "did", "size_mm", "words")
    there: dict[int, set[Said]] = {}
    for row in rows.iterator(chunk_size=500):
        there.setdefault(row[0], set()).add(row)
    wrong = [key for key in said.keys() | there.keys() if said.get(key) != there.get(key)]
    for entry in Entry.objects.filter(pk__in=wrong).select_related("tool").order_by("pk"):
        yield Finding(entry.tool.code, entry.number, _("the list of defects is not what the history says"))
    yield from _counts()


def _counts() -> Iterator[Finding]:
    wanted = open_by_tool(DefectMark.objects.standing().select_related("defect", "entry"))
    counted = Summary.objects.exclude(open_defects=0).values_list("tool", "open_defects")
    stored = dict(counted)
    differ = [tool for tool in wanted.keys() | stored.keys() if wanted.get(tool, 0) != stored.get(tool, 0)]
    for tool, code in Summary.objects.filter(tool__in=differ).order_by("tool").values_list("tool", "tool__code"):
        said = {"there": stored.get(tool, 0), "wanted": wanted.get(tool, 0)}
        text = _("the summary says %(there)d defects still there, the history %(wanted)d")
        yield Finding(code, None, text % said)
