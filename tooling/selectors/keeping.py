"""What the pages of backups and seals show."""

import re
from dataclasses import dataclass
from itertools import islice

from django.db.models import Max, OuterRef, Subquery

from tooling.models import Entry, Job, JobState, Seal, SealLine
from tooling.services import seals
from tooling.services.jobs.files import file_of
from tooling.services.keeping import BACKUP, CHECK

SHOWN = 50
_DIGEST = re.compile(r"(?<![0-9a-f])(?:[0-9a-f]{8}[\s-]*){7}[0-9a-f]{8}(?![0-9a-f])")


@dataclass(frozen=True, slots=True)
class Check:
    """The last check of the history that came to an end, and the first of what it found."""

    job: Job
    findings: list[str]
    more: bool


@dataclass(frozen=True, slots=True)
class Kept:
    """What became of a seal that somebody kept outside: still there or not, still what it was or not."""

    digest: str
    seal: Seal | None
    stands: bool = False
    tools: int = 0
    entries: int = 0


def open_jobs() -> list[Job]:
    """Backups and checks that wait or run."""
    return list(Job.objects.open().filter(kind__in=[BACKUP, CHECK]).order_by("pk"))


def last_check() -> Check | None:
    """The newest that is done."""
    job = Job.objects.filter(kind=CHECK, state=JobState.DONE).first()
    if job is None:
        return None
    path = file_of(job)
    if path is None:
        return Check(job, [], more=False)
    with path.open(encoding="utf-8") as file:
        found = [line.rstrip("\n") for line in islice(file, SHOWN + 1)]
    return Check(job, found[:SHOWN], more=len(found) > SHOWN)


def digest_in(text: str) -> str:
    """The digest in what somebody pasted or typed, whatever stands around it; "" where there is none."""
    found = _DIGEST.search(text.lower())
    return re.sub(r"[\s-]", "", found[0]) if found else ""


def kept_outside(digest: str) -> Kept:
    """What became of a seal. That the entries under it are unchanged is for the check of the history to say."""
    seal = Seal.objects.filter(digest=digest).first()
    if seal is None:
        return Kept(digest, None)
    lines = list(seal.lines.values_list("tool_id", "count", "head"))
    same = seals.digest(seal.previous, seal.day, seal.made_at, lines) == seal.digest
    stored = Entry.objects.filter(tool=OuterRef("tool"), number=OuterRef("count")).values("link")[:1]
    heads = seal.lines.annotate(stored=Subquery(stored)).values_list("head", "stored")
    covered = SealLine.objects.filter(seal__day__lte=seal.day).values("tool").annotate(last=Max("count"))
    counts = [row["last"] for row in covered]
    return Kept(digest, seal, same and all(head == link for head, link in heads), len(counts), sum(counts))
