"""What became of a hold, in words: that it stands, who freed the tool and by which right, or why it is void."""

from collections.abc import Iterable
from datetime import datetime, tzinfo
from typing import Any

from django.utils.translation import gettext as _

from tooling.words.flags import flag_words
from tooling.words.holds import quote
from tooling.words.own import quoted
from tooling.words.rights import between
from tooling.words.when import when


def became(hold: Any, now: datetime, zone: tzinfo) -> str:
    """One sentence of how it ended, or that it did not."""
    if hold.void is not None:
        return _void(hold.void, now, zone)
    if hold.changed is not None:
        said = {"when": when(hold.changed.recorded_at, now, zone), "by": hold.changed.recorded_by or _("nobody named")}
        return _("Corrected %(when)s by %(by)s: what stands in its place does not hold the tool.") % said
    if hold.ended is None:
        return _("It holds the tool still.")
    said = {"when": when(hold.ended.at, now, zone), "by": hold.ended.by or _("nobody named")}
    if hold.ended.kind != "inspected":
        text = _("Ended %(when)s, when the tool was reinstated: held anew until somebody has looked.")
        return text % said
    text = _("Freed %(when)s by %(by)s, who had looked at it") % said
    words = quote(hold.ended)
    return f"{text}: {words}" if words else f"{text}."


def _void(void: Any, now: datetime, zone: tzinfo) -> str:
    said = {"when": when(void.recorded_at, now, zone), "by": void.by or _("nobody named")}
    text = _("Void, said %(when)s by %(by)s") % said
    reason = void.payload.get("reason", "")
    return f"{text}: {quoted(reason)}" if reason else f"{text}."


def by_which_right(right: Any, flags: Iterable[str], kind: str, writer: Any = None) -> list[str]:
    """By which right whoever freed it did so, as it was known then; who wrote it for them; and what the rules say."""
    said = []
    if right is not None:
        days = between(right.since, right.until)
        text = _("By the right to free held tools, %(days)s, given by %(name)s.")
        said.append(text % {"days": days, "name": right.given_by or _("an import")})
    if writer is not None:
        said.append(_("Written down by %(name)s, who was signed in.") % {"name": writer.name})
    return said + [str(flag_words(flag, kind)) for flag in flags]
