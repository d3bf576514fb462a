"""The next look-over of a tool and its changes, in words."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal
from typing import Any

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy, ngettext

from tooling.models import Hand, PartRevision, Tool
from tooling.models.fields import NumberField
from tooling.words.counting import capital
from tooling.words.marks import place_in_text
from tooling.words.measures import measure, si_of
from tooling.words.set_changes import FIELD, set_change
from tooling.words.terms import KINDS, term
from tooling.words.when import day

# What is kept of a revision that was taken back, with the one that is the newest again.
TAKEN_BACK = "taken_back"

HISTORY_GROUPS = (
    ("", gettext_lazy("everything")),
    ("pulls", gettext_lazy("lay-ups and pulls")),
    ("coats", gettext_lazy("coats and strips")),
    ("surface", gettext_lazy("repairs and look-overs")),
    ("inserts", gettext_lazy("mold inserts")),
    ("places", gettext_lazy("places")),
    ("rest", gettext_lazy("all else")),
)


# What is changed of its pictures stands among the changes of the tool.
_OF_PICTURES = {
    "caption": gettext_lazy("Caption of a picture"),
    "picture": gettext_lazy("Picture"),
    "mark": gettext_lazy("Mark on a picture"),
}
_PICTURE = {"down": gettext_lazy("taken down"), "back": gettext_lazy("put back")}
# What a tool is found by besides its code.
OLDER_CODE = "older_code"
# What another app keeps among the changes of a tool: by the first word of their fields, how they are said.
_OF_OTHERS: dict[str, "Callable[[Any, str], Changed]"] = {}


def register(word: str, say: "Callable[[Any, str], Changed]") -> None:
    """Makes known how changes whose field begins with that word and a space are said, in a person's units."""
    _OF_OTHERS[word] = say


@dataclass(frozen=True, slots=True)
class Changed:
    """One change as it is read."""

    at: datetime
    who: Any
    what: str
    before: str
    after: str
    brought_in: bool


def look_over(next_one: Any, today: date) -> str:
    """Wanted now, after 3 more pulls, or on 6 May."""
    if next_one.is_wanted(today):
        return _("wanted now")
    return look_over_to_come(next_one, lambda of: day(of, today)) or _("counted from its first entry")


def look_over_to_come(next_one: Any, day_said: Callable[[date], str]) -> str:
    """After 3 more pulls, 6 May at the latest; "" where nothing is counted yet."""
    said = []
    if next_one.pulls is not None and next_one.of_cuts:
        text = ngettext("after %(n)d more part cut", "after %(n)d more parts cut", next_one.pulls)
        said.append(text % {"n": next_one.pulls})
    elif next_one.pulls is not None:
        said.append(ngettext("after %(n)d more pull", "after %(n)d more pulls", next_one.pulls) % {"n": next_one.pulls})
    if next_one.day is not None:
        said.append(_("%(day)s at the latest") % {"day": day_said(next_one.day)})
    return ", ".join(said)


def changed(change: Any, system: str) -> Changed:
    """A change of a tool, numbers in the reader's units."""
    word, is_more, _column = change.field.partition(" ")
    if is_more:
        return _OF_OTHERS[word](change, system)
    if change.field in _OF_PICTURES:
        say = place_in_text if change.field == "mark" else _PICTURE.get
        before, after = (str(say(text, text)) for text in (change.before, change.after))
        return Changed(change.at, change.who, str(_OF_PICTURES[change.field]), before, after, brought_in=False)
    if change.field == OLDER_CODE:
        return Changed(change.at, change.who, _("Found by"), "", change.after, False)
    if change.field == "code" and not change.before:
        return Changed(change.at, change.who, _("Brought in"), "", change.after, True)
    return _changed(change, Tool._meta.get_field(change.field), system)


def part_changed(change: Any, system: str) -> Changed:
    """A change of a revision of a part, with its revision, numbers in the reader's units."""
    if not change.field:
        what = _("Revision %(name)s written down") % {"name": change.after} if change.after else _("Written down")
        return Changed(change.at, change.who, what, "", change.after, True)
    if change.field == FIELD:
        named, said = change.revision.revision, set_change(change.before, change.after)
        what = _("Tool set, %(revision)s") % {"revision": named} if named else _("Tool set")
        what = f"{what}: {said.what}" if said.what else what
        return Changed(change.at, change.who, what, said.before, said.after, said.before == said.after)
    if change.field == TAKEN_BACK:
        named = _("Revision %(name)s taken back") % {"name": change.before}
        what = named if change.before else _("The revision without a name taken back")
        return Changed(change.at, change.who, what, "", "", True)
    if change.field == "wanted":
        return Changed(change.at, change.who, _("How many are wanted"), change.before, change.after, False)
    return _changed(change, PartRevision._meta.get_field(change.field), system, change.revision.revision)


def _changed(change: Any, field: Any, system: str, of: str = "") -> Changed:
    label = str(field.verbose_name)
    what = capital(label) + (f", {of}" if of else "")
    before, after = _value(field, change.before, system), _value(field, change.after, system)
    return Changed(change.at, change.who, what, before, after, False)


def _value(field: Any, text: str, system: str) -> str:
    if not text:
        return ""
    if isinstance(field, NumberField):
        return str(measure(Decimal(text), si_of(field.name), system))
    if field.name == "kind":
        return term(KINDS, text)
    if field.name == "hand":
        return str(dict(Hand.choices).get(text, text))
    return {"yes": _("yes"), "no": _("no")}.get(text, text) if field.name == "in_making" else text
