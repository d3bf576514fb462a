"""What a person means by a cell, and how a value stands in one. Each kind of column is a pair of functions."""

import re
from collections.abc import Callable
from dataclasses import dataclass
from datetime import date, datetime, time, tzinfo
from decimal import Decimal, InvalidOperation
from typing import Any, NamedTuple

from django.utils.translation import gettext as _

from shared.errors import Refused
from tooling.models import check_code
from tooling.models.fields import plain
from tooling.services.times import NOON, day_in_bounds, in_zone, moment

LONGEST_TEXT = 32_767  # what a spreadsheet's cell holds
_BETWEEN_WORDS = re.compile(r"[\s_-]+")
SPACES = " \u00a0\u202f"
MOST = 1_000_000
_TOO_MUCH = Decimal("999999999.999999")  # a stored number has nine digits before the point
_STEP = Decimal("0.000001")  # and six behind it


@dataclass(frozen=True, slots=True)
class Broken:
    """A cell that shows no value: the message says what it shows instead."""

    message: str


Cell = str | bool | int | Decimal | datetime | date | time | Broken | None


@dataclass(frozen=True, slots=True)
class Frame:
    """How the cells of one table are understood: the zone of times without one, and 12,5 for 12.5."""

    zone: tzinfo
    decimal_comma: bool = False


class Kind(NamedTuple):
    """A kind of column: `read` a cell that holds something, `write` a value that is something; `words`, if any."""

    read: Callable[[Any, Frame], Any]
    write: Callable[[Any, Frame], Any]
    words: tuple[str, ...] = ()


def is_blank(cell: Any) -> bool:
    """Whether a person sees nothing there."""
    return cell is None or (isinstance(cell, str) and not cell.strip())


def shown(cell: Any) -> str:
    """A cell as a person reads it."""
    if isinstance(cell, Broken):
        raise Refused(cell.message)
    if isinstance(cell, bool):
        return str(cell).upper()
    if isinstance(cell, Decimal):
        return f"{plain(cell):f}"
    if isinstance(cell, date | time):
        return cell.isoformat()
    return str(cell)


def tidy_text(text: str) -> str:
    """Free words as they are kept: without stray outer spaces."""
    return text.strip(SPACES)


def _as_is(value: Any, frame: Frame) -> Any:
    return value


def _text(cell: Any, frame: Frame) -> str:
    text = tidy_text(shown(cell))
    if "\0" in text:
        raise Refused(_("There is a character in it that cannot be kept. Type it anew."))
    if len(text) > LONGEST_TEXT:
        raise Refused(_("At most %(longest)d characters.") % {"longest": LONGEST_TEXT})
    return text


def _write_text(value: Any, frame: Frame) -> str:
    return tidy_text(str(value))


def _no_date(cell: Any) -> None:
    """Refuses what a spreadsheet made of 3-1 or 2/4: what was typed is gone."""
    if isinstance(cell, date | time):
        raise Refused(_("The spreadsheet made a date of this. Format the cell as text and type it again."))


def _shorter(text: str, longest: int) -> str:
    if len(text) > longest:
        raise Refused(_("At most %(longest)d characters.") % {"longest": longest})
    return text


def name(longest: int) -> Kind:
    """A name or number of something: one line of words with single spaces."""

    def read(cell: Any, frame: Frame) -> str:
        _no_date(cell)
        return _shorter(" ".join(_text(cell, frame).split()), longest)

    return Kind(read, lambda value, frame: " ".join(str(value).split()))


def _reference(cell: Any, frame: Frame) -> str:
    _no_date(cell)
    return _shorter(" ".join(_text(cell, frame).upper().split()), 80)


def _code(cell: Any, frame: Frame) -> str:
    code = _reference(cell, frame)
    check_code(code)
    return code


def _parsed(cell: Any, frame: Frame) -> Decimal:
    """A number with all its digits."""
    text = shown(cell).strip()
    if frame.decimal_comma:
        text = text.replace(",", ".")
    try:
        value = Decimal(text) if not isinstance(cell, bool) else Decimal("NaN")
    except InvalidOperation:
        value = Decimal("NaN")
    if not value.is_finite():
        raise Refused(_("“%(cell)s” is no number.") % {"cell": shown(cell)})
    return value


def _bounded(value: Decimal, most: int | Decimal) -> Decimal:
    if abs(value) > most:
        raise Refused(_("%(cell)s is more than the program can hold.") % {"cell": value})
    return value


def number(least: int | None = None) -> Kind:
    """A measured or agreed number, not below `least`."""

    def read(cell: Any, frame: Frame) -> Decimal:
        # a third of a metre from a spreadsheet has sixteen digits; a millionth is near enough
        value = plain(_bounded(_parsed(cell, frame), _TOO_MUCH).quantize(_STEP))
        if least is not None and value < least:
            raise Refused(_("A number, %(least)d or more, not “%(cell)s”.") % {"least": least, "cell": shown(cell)})
        return value

    return Kind(read, lambda value, frame: plain(Decimal(value)))


def _exact(cell: Any, frame: Frame) -> Decimal:
    value = _bounded(_parsed(cell, frame), Decimal(10) ** 30)
    if value.adjusted() < -30:
        raise Refused(_("%(cell)s is smaller than the program can hold.") % {"cell": shown(cell)})
    return plain(value)


def _write_exact(value: Any, frame: Frame) -> Any:
    try:
        return plain(Decimal(str(value)))
    except InvalidOperation:
        return str(value)


def whole(least: int, most: int = MOST) -> Kind:
    """A whole number; 5 and 5.0 are the same."""

    def read(cell: Any, frame: Frame) -> int:
        value = _bounded(_parsed(cell, frame), most)
        if value != value.to_integral_value() or value < least:
            message = _("A whole number, %(least)d or more, not “%(cell)s”.")
            raise Refused(message % {"least": least, "cell": shown(cell)})
        return int(value)

    return Kind(read, lambda value, frame: int(value))


def folded(text: str) -> str:
    """A word as it is stored: mold_insert for “Mold insert”, semi_permanent for “semi-permanent”."""
    return "_".join(_BETWEEN_WORDS.split(text.strip().lower()))


def word(*words: str, **also: str) -> Kind:
    """One of some words, without regard to case, spaces and hyphens; `also` has the shop's own word for one of them."""
    by_key = {**{folded(one): one for one in words}, **also}

    def read(cell: Any, frame: Frame) -> str:
        text = shown(cell).strip()
        if folded(text) not in by_key:
            choices = {"words": ", ".join(words), "cell": text}
            raise Refused(_("One of %(words)s, not “%(cell)s”.") % choices)
        return by_key[folded(text)]

    return Kind(read, _as_is, words)


def _any_word(cell: Any, frame: Frame) -> str:
    return folded(_text(cell, frame))


_YES_NO = word("yes", "no")


def _yes_no(cell: Any, frame: Frame) -> bool:
    # a spreadsheet has a yes and no of its own
    return cell if isinstance(cell, bool) else _YES_NO.read(cell, frame) == "yes"


def _instant(cell: Any, frame: Frame) -> datetime:
    if isinstance(cell, datetime):
        return in_zone(cell, frame.zone)
    if isinstance(cell, date):
        return in_zone(datetime.combine(cell, NOON), frame.zone)
    found = moment(cell, frame.zone) if isinstance(cell, str) else None
    if found is None:
        raise Refused(_("“%(text)s” is no time. Write it as 2026-03-31 14:05.") % {"text": shown(cell)})
    return found


def _write_instant(value: datetime, frame: Frame) -> str:
    # with the distance to UTC, so that the hour that occurs twice stays the one it was
    return value.astimezone(frame.zone).isoformat()


def _date(cell: Any, frame: Frame) -> date:
    if isinstance(cell, datetime):
        return day_in_bounds(cell.date())
    if isinstance(cell, date):
        return day_in_bounds(cell)
    try:
        return day_in_bounds(datetime.fromisoformat(shown(cell).strip()).date())
    except ValueError:
        raise Refused(_("“%(text)s” is no date. Write it as 2026-03-31.") % {"text": shown(cell)}) from None


def _write_date(value: Any, frame: Frame) -> str:
    return value.isoformat() if isinstance(value, date) else str(value)


def listed(one: Kind) -> Kind:
    """Several of a kind with commas between, each once."""

    def read(cell: Any, frame: Frame) -> tuple[Any, ...]:
        pieces = shown(cell).split(",") if isinstance(cell, str) else [cell]
        return tuple(dict.fromkeys(one.read(piece, frame) for piece in pieces if not is_blank(piece)))

    return Kind(read, lambda values, frame: ", ".join(str(one.write(value, frame)) for value in values))


TEXT = Kind(_text, _write_text)
EXACT = Kind(_exact, _write_exact)
REFERENCE = Kind(_reference, _as_is)
CODE = Kind(_code, _as_is)
ANY_WORD = Kind(_any_word, _as_is)
YES_NO = Kind(_yes_no, lambda value, frame: "yes" if value else "no", _YES_NO.words)
INSTANT = Kind(_instant, _write_instant)
DATE = Kind(_date, _write_date)
