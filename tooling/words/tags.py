"""Why a tool wants a tag, in words."""

from datetime import datetime, tzinfo

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from tooling.models import TagPrint, TagWanted
from tooling.words.when import when

_COLUMNS = {
    "home": gettext_lazy("home"),
    "code": gettext_lazy("code"),
    "name": gettext_lazy("name"),
    "mass_kg": gettext_lazy("mass"),
    "lift": gettext_lazy("lift"),
    "max_service_c": gettext_lazy("highest temperature"),
    "owner": gettext_lazy("owner"),
}


def reason(tag: TagPrint, now: dict[str, str], other: list[str], at: datetime, zone: tzinfo) -> str:
    """What the list says behind a code. `now`: what would stand on the tag; `other`: the names of what differs."""
    if tag.wanted == TagWanted.LOST:
        return _lost(tag, at, zone)
    if tag.wanted == TagWanted.NEW:
        return _("New: it never had a tag from here.")
    if tag.wanted == TagWanted.SPOILT:
        return _("The last print did not come out.")
    if tag.wanted == TagWanted.MOVED:
        return _moved(tag.said.get("home", ""), now["home"])
    named = ", ".join(str(_COLUMNS[name]) for name in other)
    return _("Changed since it was printed: %(what)s.") % {"what": named}


def _lost(tag: TagPrint, at: datetime, zone: tzinfo) -> str:
    said = {"when": when(tag.lost_at, at, zone) if tag.lost_at else ""}
    if tag.lost_by is None:
        return _("Lost or unreadable, %(when)s.") % said
    return _("Lost or unreadable, %(when)s, %(person)s.") % {**said, "person": tag.lost_by.name}


def _moved(before: str, home: str) -> str:
    said = {"before": before, "home": home}
    if not home:
        return _("Moved: it has no home now, its tag says %(before)s.") % said
    if not before:
        return _("Moved: its home is %(home)s now, its tag names none.") % said
    return _("Moved: its home is %(home)s now, its tag says %(before)s.") % said
