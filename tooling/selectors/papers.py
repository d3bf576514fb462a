"""Papers that another app has of tools of its kind: they are offered at their lines in a tool set."""

from collections import defaultdict
from dataclasses import dataclass

from django.utils.functional import Promise


@dataclass(frozen=True, slots=True)
class PaperOf:
    """What it is called, and the name of its address, which takes the code of the tool and asks part and revision."""

    word: str | Promise
    name: str


_papers: dict[str, list[PaperOf]] = defaultdict(list)


def register(kind: str, paper: PaperOf) -> None:
    """Adds a paper of tools of a kind; none is added twice."""
    if paper not in _papers[kind]:
        _papers[kind].append(paper)


def papers(kind: str) -> list[PaperOf]:
    """Those of a kind."""
    return list(_papers.get(kind, ()))
