"""Tags are printed: a few at once, many as a job; the file stays for a week, and what stands on them is kept."""

from collections.abc import Callable
from dataclasses import asdict, dataclass
from datetime import datetime, timedelta
from pathlib import Path
from typing import Any
from uuid import uuid4

from django.conf import settings
from django.urls import reverse
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy, ngettext

from shared import clock
from shared.errors import Refused
from shared.paper import stocks
from tooling.models import Job, Person, Place, TagRun, Tool
from tooling.selectors.tag_facts import facts
from tooling.services import jobs
from tooling.services.jobs import Outcome, Progress, registry
from tooling.services.jobs.files import KEPT_DAYS, file_of
from tooling.services.tags.printed import mark
from tooling.services.tags.printing import Chosen, make

JOB = "tags"
# About what a page may take: 24 tags are drawn in half a second, and Pango is loaded in another.
AT_ONCE = 24


@dataclass(frozen=True, slots=True)
class Asked:
    """Which tags, by the keys of tools and places, and how. Plain, as a job keeps it."""

    tools: list[int]
    places: list[int]
    held: bool
    stock: str
    size: list[float] | None
    start: int
    cut_marks: bool
    gates: bool
    units: str

    @property
    def count(self) -> int:
        return len(self.tools) + len(self.places)

    @property
    def on(self) -> stocks.Stock:
        """The stock as it is printed on."""
        return stocks.stock(self.stock, (self.size[0], self.size[1]) if self.size else None)


def make_known() -> None:
    """Called when the program starts."""
    registry.register(JOB, _work, title=gettext_lazy("Tags"), goes_on=_page)


def _page(given: dict[str, Any]) -> str:
    """The page of the print that came of a job."""
    run = TagRun.objects.filter(job=given["job"]).values_list("pk", flat=True).first()
    return reverse("printed_tags", kwargs={"number": run}) if run is not None else reverse("tags")


def ask(asked: Asked, *, by: Person, at: datetime) -> TagRun | Job:
    """Prints a few at once; for many a job is asked, which prints them."""
    if asked.count > AT_ONCE:
        return jobs.ask(JOB, by=by, at=at, given={**asdict(asked), "by": by.pk})
    folder = _folder()
    folder.mkdir(parents=True, exist_ok=True)
    _sweep(folder, at)
    path = folder / f"{uuid4().hex}.part"
    try:
        run = _printed(asked, path, by=by, at=at, job=None, tell=lambda done, of, words: None)
        path.replace(folder / f"{run.pk}.pdf")
    finally:
        path.unlink(missing_ok=True)
    return run


def path_of(run: TagRun) -> Path | None:
    """The file of a print; None where it was swept after a week."""
    if run.job is not None:
        job = Job.objects.filter(pk=run.job, kind=JOB).first()
        return file_of(job) if job is not None else None
    path = _folder() / f"{run.pk}.pdf"
    return path if path.is_file() else None


def _work(given: dict[str, Any], progress: Progress) -> Outcome:
    """The same as a job."""
    asked = Asked(**{name: value for name, value in given.items() if name != "by"})
    path = progress.folder / "tags.pdf"
    by, job = Person.objects.get(pk=given["by"]), int(progress.folder.name)
    _printed(asked, path, by=by, at=clock.now(), job=job, tell=progress.say)
    said = ngettext("%(n)d tag.", "%(n)d tags.", asked.count) % {"n": asked.count}
    return Outcome(said, path)


def _printed(
    asked: Asked, path: Path, *, by: Person, at: datetime, job: int | None, tell: Callable[[int, int, str], None]
) -> TagRun:
    """Reads what stands on the tags, makes the file, and only then keeps what was printed."""
    tools = list(Tool.objects.filter(pk__in=asked.tools).order_by("code").values_list("pk", flat=True))
    places = list(Place.objects.filter(pk__in=asked.places).order_by("code").values_list("pk", flat=True))
    if not tools and not places:
        raise Refused(_("What was chosen is not there any more."))
    said = {} if asked.held else facts(tools, at)
    make(
        Chosen(tools=tools, places=places, held=asked.held), path, at=at, stock=asked.on, start=asked.start,
        cut_marks=asked.cut_marks, gates=asked.gates, units=asked.units, site_url=settings.SITE_URL, progress=tell,
    )  # fmt: skip
    given = {"stock": asked.stock, "start": asked.start, "held": asked.held}
    return mark(said, by=by, at=at, count=len(tools) + len(places), given=given, job=job)


def _folder() -> Path:
    return Path(settings.DATA_DIR) / "tags"


def _sweep(folder: Path, at: datetime) -> None:
    old = (at - timedelta(days=KEPT_DAYS)).timestamp()
    for path in folder.glob("*"):
        if path.is_file() and path.stat().st_mtime < old:
            path.unlink(missing_ok=True)
