"""To whom tools are lent, and what should be known before one is."""

from collections.abc import Iterable
from datetime import date, datetime

from django.utils.translation import gettext as _

from tooling.models import Entry, Summary, Tool
from tooling.selectors.carried import part_carried
from tooling.words.places import lent

# As many names as a hand looks through, out of as many loans.
OFFERED, LOOKED_AT = 6, 100


def lent_to_before(most: int = OFFERED) -> list[str]:
    """The people and companies that had a tool, the last first; two spellings of one name are one."""
    loans = Entry.objects.filter(kind="lent").standing().order_by("-at").values_list("payload", flat=True)[:LOOKED_AT]
    found: dict[str, str] = {}
    for name in (str(loan.get("person", "")).strip() for loan in loans):
        found.setdefault(name.casefold(), name)
    return [name for name in found.values() if name][:most]


def loan_at(tool: Tool, at: datetime) -> Entry | None:
    """Who had the tool by its loans at a moment; seen somewhere in between it may still be handed back."""
    loans = Entry.objects.filter(tool=tool, kind__in=("lent", "handed_back"), at__lte=at).standing()
    last = loans.order_by("-at", "-pk").first()
    return last if last is not None and last.kind == "lent" else None


def before_lending(summary: Summary, person: str) -> list[str]:
    """What speaks against it and keeps nobody from it: somebody else has it, a part is in it, or it is in a mold."""
    said = []
    if summary.lent and summary.lent_to.strip().casefold() != person.strip().casefold():
        words = _("By its history it is %(lies)s. That loan is over with this one.")
        said.append(words % {"lies": lent(summary.lent_to, summary.lent_until)})
    if summary.laid_up_at is not None:
        said.append(part_carried(summary.tool, summary))
    if summary.in_mold_of is not None:
        said.append(_("By its history it is in %(mold)s.") % {"mold": summary.in_mold_of.code})
    return said


def chips_until(today: date) -> list[tuple[date, str]]:
    """Days until when a tool is usually lent: tomorrow, the next Friday, in two weeks."""
    friday = date.fromordinal(today.toordinal() + ((4 - today.weekday()) % 7 or 7))
    named = [
        (date.fromordinal(today.toordinal() + 1), _("tomorrow")),
        (friday, _("Friday")),
        (date.fromordinal(today.toordinal() + 14), _("in two weeks")),
    ]
    return list({day: (day, words) for day, words in reversed(named)}.values())[::-1]


def loans_ended(tools: Iterable[int]) -> dict[int, Entry]:
    """The loans of these tools that were over when the tool was seen, each by the key of the entry that saw it.

    One query, however many tools.
    """
    lent = Entry.objects.filter(kind="lent", tool__in=list(tools)).values("tool")
    told = Entry.objects.filter(tool__in=lent, kind__in=("lent", "handed_back", "moved")).standing()
    running: dict[int, Entry] = {}
    ended = {}
    for entry in told.order_by("at", "pk"):
        if entry.payload.get("seen") is False:
            continue
        loan = running.pop(entry.tool_id, None)
        if entry.kind == "lent":
            running[entry.tool_id] = entry
        elif entry.kind == "moved" and entry.payload.get("place") and loan is not None:
            ended[entry.pk] = loan
    return ended
