"""What holds a tool, in words: since when, by whom, and what was said."""

from datetime import datetime, tzinfo
from typing import Any

from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from tooling.words.counting import capital
from tooling.words.own import holds_unseen, quoted
from tooling.words.terms import CAME_OFF, term
from tooling.words.when import when


def since(hold: Any, now: datetime, zone: tzinfo) -> str:
    """Since yesterday 16:40, by Jonas: “chipped at the transom”."""
    return since_when(hold, when(hold.at, now, zone))


def since_when(hold: Any, said_when: str) -> str:
    """The same with its time in other words."""
    said = {"when": said_when, "by": hold.by}
    text = _("Since %(when)s, by %(by)s") % said if hold.by else _("Since %(when)s") % said
    was = ", ".join(what(hold))
    text = f"{text}: {was}" if was else text
    words = quote(hold)
    if not words:
        return f"{text}."
    text = f"{text}; {words}" if was else f"{text}: {words}"
    return f"{text}." if holds_unseen(words) else text


def quote(hold: Any) -> str:
    """What was said with it, ticks and words: in quotation marks, unless the program held it."""
    said = [hold.payload.get(name, "") for name in ("reason", "note")]
    words = ". ".join(word for word in said if word)
    return quoted(words) if words else ""


def and_more(holds: list[Any]) -> str:
    """The words of the first, and how many more there are: for a row, behind the sentence of its state."""
    if not holds:
        return ""
    more = len(holds) - 1
    words, was = quote(holds[0]), capital(", ".join(what(holds[0])))
    if holds_unseen(words):
        words = ""  # the sentence says it already
    first = words or was
    if not more:
        return f"{was}." if was and not words else first
    text = ngettext("and %(n)d more.", "and %(n)d more.", more) % {"n": more}
    return f"{first} {text}" if first else _("For %(n)d reasons.") % {"n": more + 1}


def what(hold: Any) -> list[str]:
    """What it was besides a stop, in a few words each."""
    if hold.kind == "inspected":
        return [_("looked at, and it did not pass")]
    if hold.kind == "reinstated":
        return [_("reinstated")]
    if hold.kind != "pull":
        return []
    said = [_("a part came off %(how)s") % {"how": term(CAME_OFF, hold.came_off)}] if hold.came_off else []
    return said + ([_("the tool is marked")] if hold.payload.get("tool_damaged") else [])
