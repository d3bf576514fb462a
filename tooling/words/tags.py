"""Why a tool wants a tag, in words."""

from datetime import datetime, tzinfo

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from tooling.models import TagPrint, TagWanted
from tooling.words.when import when

_COLUMNS = {
    "home": gettext_lazy("home"),
    "home_code": gettext_lazy("code of the home"),
    "code": gettext_lazy("code"),
    "kind": gettext_lazy("kind"),
    "hand": gettext_lazy("hand"),
    "name": gettext_lazy("name"),
    "mass_kg": gettext_lazy("mass"),
    "lift": gettext_lazy("lift"),
    "matched_set": gettext_lazy("matched set"),
    "owner": gettext_lazy("owner"),
    "owner_ref": gettext_lazy("owner’s reference"),
    "max_service_c": gettext_lazy("highest temperature"),
    "family": gettext_lazy("recipe and its caution"),
    "film": gettext_lazy("film and its caution"),
    "retired": gettext_lazy("retired or not"),
    "more": gettext_lazy("further lines"),
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
        return _moved(*_homes(tag.said, now))
    named = ", ".join(str(_COLUMNS[name]) for name in other)
    return _("Changed since it was printed: %(what)s.") % {"what": named}


def _lost(tag: TagPrint, at: datetime, zone: tzinfo) -> str:
    said = {"when": when(tag.lost_at, at, zone) if tag.lost_at else ""}
    if tag.lost_by is None:
        return _("Lost or unreadable, %(when)s.") % said
    return _("Lost or unreadable, %(when)s, %(person)s.") % {**said, "person": tag.lost_by.name}


def _homes(said: dict[str, str], now: dict[str, str]) -> tuple[str, str]:
    """The names of the home on the tag and of the home now; their codes too where both bear one name."""
    before, home = said.get("home", ""), now["home"]
    if before != home:
        return before, home
    return f"{before} ({said.get('home_code', '')})", f"{home} ({now['home_code']})"


def _moved(before: str, home: str) -> str:
    said = {"before": before, "home": home}
    if not home:
        return _("Moved: it has no home now, its tag says %(before)s.") % said
    if not before:
        return _("Moved: its home is %(home)s now, its tag names none.") % said
    return _("Moved: its home is %(home)s now, its tag says %(before)s.") % said
