"""Which lines of a tool set stand in for one another; halves that close on one part do so together."""

from datetime import datetime

from django.utils.translation import gettext as _

from shared.errors import Refused
from tooling.models import Person, SetLine
from tooling.services.set_kept import keep
from tooling.words.set_changes import as_kept

_LONGEST = SetLine._meta.get_field("alternative").max_length or 0


def joined(line: SetLine, other: SetLine, *, by: Person, at: datetime) -> str:
    """The word that a line and what it stands in for have in common; the revision is locked.

    Order: read the other line again; refuse one that is gone or was changed, the line itself, and what has another use;
    give the other one a word where it has none; let the other halves of the line stand in for those of the other. A
    word that is there stays as it is, whatever the codes of its tools become.
    """
    if other.pk == line.pk:
        raise Refused(_("%(tool)s cannot stand in for itself: choose another one.") % {"tool": line.what}, "instead")
    if other.revision_id != line.revision_id or other.role != line.role:
        text = _("%(tool)s has another use than %(other)s: choose one of the same use in this set.")
        raise Refused(text % {"tool": line.what, "other": other.what}, "instead")
    now = _as_it_is(other)
    mine, theirs = mates(line), mates(now)
    if _matched(line) != _matched(now):
        for half, its in zip(mine, theirs, strict=False):
            _say(half, _word(its, by, at), by, at)
    return _word(now, by, at)


def parted(line: SetLine, *, by: Person, at: datetime) -> None:
    """The other halves of a line that stands in for nothing any more do not either."""
    for half in mates(line):
        _say(half, "", by, at)


def namesake(line: SetLine, word: str) -> SetLine | None:
    """Another line of its use that has the word."""
    others = line.revision.tool_set.filter(role=line.role).exclude(pk=line.pk).select_related("tool").in_order()
    return next((one for one in others if word and one.alternative.casefold() == word.casefold()), None)


def mates(line: SetLine) -> list[SetLine]:
    """The other halves in the set, in use or not, in its order; without those that stand in for the line itself."""
    if not _matched(line):
        return []
    of_set = line.revision.tool_set.filter(role=line.role, tool__matched_set=_matched(line)).exclude(pk=line.pk)
    word = line.alternative.casefold()
    found = of_set.select_related("tool").in_order()
    return [one for one in found if not word or one.alternative.casefold() != word]


def _matched(line: SetLine) -> str:
    return line.tool.matched_set if line.tool is not None else ""


def _as_it_is(other: SetLine) -> SetLine:
    now = SetLine.objects.filter(pk=other.pk).select_related("tool", "revision").first()
    if now is None:
        text = _("%(tool)s is not in this set any more: choose another one, or nothing.")
        raise Refused(text % {"tool": other.what}, "instead")
    if now.alternative != other.alternative:
        text = _("Somebody changed meanwhile what %(tool)s stands in for. Look at the set as it is now, then choose.")
        raise Refused(text % {"tool": other.what}, "instead")
    return now


def _word(line: SetLine, by: Person, at: datetime) -> str:
    """That of the line; a new one where it has none."""
    if not line.alternative:
        _say(line, _new_word(line), by, at)
    return line.alternative


def _say(line: SetLine, word: str, by: Person, at: datetime) -> None:
    if line.alternative != word:
        before, line.alternative = as_kept(line), word
        line.save(update_fields=["alternative"])
        keep(line.revision, by, at, before=before, after=as_kept(line))


def _new_word(line: SetLine) -> str:
    """What the line is called; with a number behind it where the set has that word for others."""
    of_role = line.revision.tool_set.filter(role=line.role).values_list("alternative", flat=True)
    taken = {word.casefold() for word in of_role}
    tried = (line.what[: _LONGEST - 4].strip() + (f" {n}" if n else "") for n in (0, *range(2, 999)))
    return next(word for word in tried if word.casefold() not in taken)
