"""The one sentence that a status makes: what the tool may be used for now, or what comes first."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime, tzinfo

from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from tooling.calc.status import Status
from tooling.words.counting import capital, coats, coats_of_sealer, missing_coats, pulls
from tooling.words.family import coat_first, coat_line, then_a_coat
from tooling.words.own import holds_unseen
from tooling.words.reasons import reasons
from tooling.words.when import clock_or_when, whole_minute

Dates = Callable[[datetime, tzinfo], str]


@dataclass(frozen=True, slots=True)
class Sentence:
    """What is said first, what follows on it after `mark`, and further whole sentences."""

    head: str
    tail: str = ""
    mark: str = ":"
    more: tuple[str, ...] = ()

    def __str__(self) -> str:
        return f"{self.head}{self.mark} {self.tail}." if self.tail else f"{self.head}."

    @property
    def whole(self) -> str:
        """The sentence and all that follows it."""
        return " ".join([str(self), *self.more])


@dataclass(frozen=True, slots=True)
class _Case:
    status: Status
    own: Status
    family: str
    now: datetime
    zone: tzinfo
    kind: str
    dates: Dates | None
    held: str

    @property
    def is_own(self) -> bool:
        """Whether the status is the tool's own, so that its counts belong to what is said."""
        return self.own.status == self.status.status

    def time(self, at: datetime) -> str:
        return self.dates(at, self.zone) if self.dates is not None else clock_or_when(at, self.now, self.zone)


def sentence(
    status: Status,
    *,
    family: str,
    now: datetime,
    zone: tzinfo,
    own: Status | None = None,
    on: str = "",
    kind: str = "mold",
    dates: Dates | None = None,
    held: str = "",
) -> Sentence:
    """What a status says.

    status: of the tool, a mold together with its installed inserts.
    family: of the recipe of the surface that the status comes from.
    own: the status of a mold without its inserts: the counts that are said are those of one surface.
    on: the code of the surface that the status comes from, where it is an insert and not the tool itself.
    kind: of the tool: a part is in a mold, a molding on a plug.
    dates: how a time is said with its date, where it will be read on another day.
    held: the words that the surface is held with, where the program held it: they say more than that somebody did.
    """
    case = _Case(status, own or status, family, now, zone, kind, dates, held)
    said = _SAID[status.status](case)
    if on and status.status not in ("part_in_mold", "ready"):
        about = _("This is about %(code)s, which is in it.") % {"code": on}
        return Sentence(said.head, said.tail, said.mark, (*said.more, about))
    return said


def making(step: str) -> Sentence:
    """A tool that is still being built, at its step."""
    return Sentence(_("In the making"), step)


def not_accepted() -> Sentence:
    """A tool that was brought back, was looked at, and waits to be accepted."""
    return Sentence(_("Brought back"), _("not accepted yet"))


def _retired(case: _Case) -> Sentence:
    return Sentence(_("Retired"), _("out of use for good"))


def _held(case: _Case) -> Sentence:
    why = case.status.why
    if "hold" not in why or not holds_unseen(case.held):
        return Sentence(_("Held"), ", ".join(reasons("held", why)))
    others = [code for code in why if code not in ("hold", "came_off")]
    return Sentence(_("Held"), ", ".join([case.held, *reasons("held", others)]))


def _part_in_mold(case: _Case) -> Sentence:
    earliest = case.status.ready_at
    part_in = _("Molding on the plug") if case.kind == "plug" else _("Part in the mold")
    if earliest is None:
        return Sentence(part_in, _("and no time was set for it"), ",")
    if earliest <= case.now:
        return Sentence(_("Time is up: check it is hard"))
    return Sentence(part_in, _("not before %(time)s") % {"time": case.time(earliest)}, ",")


def _needs_strip(case: _Case) -> Sentence:
    need = case.status.need
    after = _("Then %(coats)s.") % {"coats": missing_coats(need.sealer, need.coat)} if need else ""
    return Sentence(_("Strip first"), ", ".join(reasons("needs_strip", case.status.why)), more=(after,) * bool(after))


def _not_prepared(case: _Case) -> Sentence:
    need = case.status.need
    if need is None:
        return Sentence(_("No release recipe"), _("choose one first"))
    if need.sealer:
        return Sentence(_("No coat on"), _("%(coats)s wanted") % {"coats": missing_coats(need.sealer, need.coat)})
    return Sentence(_("No coat on"), _("%(coats)d wanted") % {"coats": need.coat})


def _preparing(case: _Case) -> Sentence:
    """The coats that are on are left out where the status is an insert's."""
    need, on = case.status.need, case.own.coats_in_preparation
    missing_sealer = need.sealer if need else 0
    missing_coats_ = need.coat if need else 0
    if missing_sealer:
        more = coats_of_sealer(missing_sealer)
        text = _("%(sealer)s more, then %(coats)s") % {"sealer": more, "coats": coats(missing_coats_)}
        return Sentence(_("Preparing"), text if missing_coats_ else _("%(sealer)s more") % {"sealer": more})
    if not case.is_own or not on:
        return Sentence(_("Preparing"), _("%(coats)s more") % {"coats": coats(missing_coats_)})
    text = ngettext("%(on)d coat on, %(more)d more", "%(on)d coats on, %(more)d more", on)
    return Sentence(_("Preparing"), text % {"on": on, "more": missing_coats_})


def _needs_touch_up(case: _Case) -> Sentence:
    """A waxed surface says why, a semi-permanent one how much; the other half follows."""
    need = case.status.need
    why = ", ".join(_touch_up_reason(case, code) for code in case.status.why)
    wanted = coats(need.coat) if need else ""
    if case.family == "paste_wax":
        return Sentence(coat_first(case.family), why, more=(f"{capital(wanted)}.",))
    return Sentence(coat_first(case.family), wanted, more=(f"{capital(why)}.",))


def _touch_up_reason(case: _Case, code: str) -> str:
    """The count is said in numbers where they are the surface's own."""
    status = case.own
    if code != "count" or code not in case.own.why:
        return reasons("needs_touch_up", [code])[0]
    if status.pulls_past:
        text = ngettext("%(past)d pull past the %(line)s", "%(past)d pulls past the %(line)s", status.pulls_past)
        return text % {"past": status.pulls_past, "line": coat_line(case.family)}
    allowed = status.since_coat
    return ngettext("%(n)d of %(n)d pull done", "%(n)d of %(n)d pulls done", allowed) % {"n": allowed}


def _curing(case: _Case) -> Sentence:
    ready = case.status.ready_at or case.now
    return Sentence(_("Curing"), _("can be laid up from %(time)s") % {"time": case.time(whole_minute(ready))})


def _needs_film(case: _Case) -> Sentence:
    return Sentence(_("Film first"), _("no fresh film is on"))


def _film_drying(case: _Case) -> Sentence:
    ready = case.status.ready_at or case.now
    return Sentence(_("Film"), _("not before %(time)s") % {"time": case.time(whole_minute(ready))})


def _last_pull(case: _Case) -> Sentence:
    return Sentence(_("Last pull"), then_a_coat(case.family), ",")


def _ready(case: _Case) -> Sentence:
    left = {"pulls": pulls(case.status.pulls_left), "then": then_a_coat(case.family)}
    return Sentence(_("Ready"), _("%(pulls)s, %(then)s") % left)


_SAID: dict[str, Callable[[_Case], Sentence]] = {
    "retired": _retired,
    "held": _held,
    "part_in_mold": _part_in_mold,
    "needs_strip": _needs_strip,
    "not_prepared": _not_prepared,
    "preparing": _preparing,
    "needs_touch_up": _needs_touch_up,
    "curing": _curing,
    "needs_film": _needs_film,
    "film_drying": _film_drying,
    "last_pull": _last_pull,
    "ready": _ready,
}
