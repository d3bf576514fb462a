"""Any number of tags as one PDF: read, drawn and written a few hundred at a time."""

import errno
from collections.abc import Callable, Iterator, Sequence
from contextlib import ExitStack, contextmanager
from dataclasses import dataclass, field
from datetime import datetime
from pathlib import Path

from django.utils.translation import gettext as _

from shared import drafts
from shared.errors import Refused
from shared.paper import document, sheets
from shared.paper.boxes import Tag
from shared.paper.qr import Matrix
from shared.paper.stocks import Stock
from shared.pieces import in_pieces
from tooling.drawing.tags import draw
from tooling.drawing.tags.facts import HeldTag, PlaceTag, ToolTag
from tooling.selectors.tags import held_tags, place_tags, tool_tags
from tooling.services.tags import codes

# So many of so many, and what is being done; it may raise to leave it at that.
Tell = Callable[[int, int, str], None]
_AT_ONCE = 200
# Anybody may read it whom the umask lets: what is in it hangs on every tool.
_MODE = 0o666
_FULL = (errno.ENOSPC, errno.EDQUOT, errno.EFBIG)


def _silent(done: int, of: int, words: str) -> None:
    """Nobody wants to know."""


@dataclass(frozen=True, slots=True)
class Chosen:
    """The tags to be printed, by the keys of tools and then places, in that order; `held`: those that hang on tools."""

    tools: Sequence[int] = ()
    places: Sequence[int] = ()
    held: bool = False

    @property
    def count(self) -> int:
        return len(self.tools) + len(self.places)


@dataclass(slots=True)
class Printed:
    """What is in the file; `left_out`: what had no room on the tag of a code."""

    tags: int = 0
    pages: int = 0
    left_out: dict[str, tuple[str, ...]] = field(default_factory=dict)


def make(
    chosen: Chosen, path: Path, *, at: datetime, stock: Stock, units: str, site_url: str, start: int = 1,
    cut_marks: bool = False, gates: bool = True, progress: Tell = _silent,
) -> Printed:  # fmt: skip
    """Writes the file beside its name and puts it there when it is whole; keeps the codes that it worked out.

    Refuses where nothing is chosen, or is left of it, a place that the sheet has not, marks where there is nothing to
    cut, a stock too small for a tag, a path that cannot be written, and a machine without Pango. What was there before
    stays then, and when `progress` raises.
    """
    _check(chosen, path, stock, start, cut_marks)
    document.must_be_able()
    printed, title = Printed(), _("Tags")

    def counted() -> Iterator[Tag]:
        for code, tag in drawn(chosen, at=at, stock=stock, units=units, site_url=site_url, gates=gates):
            progress(printed.tags, chosen.count, _("Drawing tags"))
            printed.tags += 1
            if tag.left_out:
                printed.left_out[code] = tag.left_out
            yield tag
        if not printed.tags:
            raise _nothing(chosen)
        progress(printed.tags, chosen.count, _("Drawing tags"))

    with ExitStack() as until:
        with _written_to(path):
            draft, file = until.enter_context(drafts.beside(path, _MODE))
        with _written_to(path, only=_FULL):
            printed.pages = sheets.write(counted(), file, stock, title, start=start, cut_marks=cut_marks)
        with _written_to(path):
            file.flush()
            draft.replace(path)
    return printed


def _check(chosen: Chosen, path: Path, stock: Stock, start: int, cut_marks: bool) -> None:
    """What can be said before anything is drawn."""
    if not chosen.count:
        raise _nothing(chosen)
    stock.check_start(start)
    if cut_marks:
        stock.check_cut_marks()
    if not path.name or path.is_dir():
        raise Refused(_("%(path)s is a folder: name the file in it, such as tags.pdf.") % {"path": path})


def _nothing(chosen: Chosen) -> Refused:
    if chosen.held:
        return Refused(_("There is no tag to print: none of these tools is held."))
    return Refused(_("There is no tag to print: no tool and no place is left of what was chosen."))


@contextmanager
def _written_to(path: Path, only: Sequence[int] = ()) -> Iterator[None]:
    """Inside, what the system says no to has to do with the path; where other files are read as well, `only` some."""
    try:
        yield
    except OSError as bad:
        if only and bad.errno not in only:
            raise
        raise Refused(_("%(path)s cannot be written: %(why)s.") % {"path": path, "why": bad.strerror}) from bad


def drawn(
    chosen: Chosen, *, at: datetime, stock: Stock, units: str, site_url: str, gates: bool, keep: bool = True
) -> Iterator[tuple[str, Tag]]:
    """Each tag with its code. A tool that is gone or not held any more has none.

    `keep` writes down the codes that were worked out.
    """
    for keys in in_pieces(chosen.tools, _AT_ONCE):
        said: dict[int, ToolTag] | dict[int, HeldTag] = (
            held_tags(keys, at) if chosen.held else tool_tags(keys, at, units)
        )
        leads_to = codes.of_tools({key: one.code for key, one in said.items()}, site_url, keep=keep)
        yield from _laid_out(said, leads_to, stock, gates)
    for keys in in_pieces(chosen.places, _AT_ONCE):
        places = place_tags(keys, units)
        leads_to = codes.of_places({key: one.code for key, one in places.items()}, site_url, keep=keep)
        yield from _laid_out(places, leads_to, stock, gates)


def _laid_out(
    said: dict[int, ToolTag] | dict[int, HeldTag] | dict[int, PlaceTag],
    leads_to: dict[int, Matrix],
    stock: Stock,
    gates: bool,
) -> Iterator[tuple[str, Tag]]:
    for key, facts in said.items():
        yield facts.code, draw(facts, stock.wide, stock.high, qr=leads_to[key], gates=gates)
