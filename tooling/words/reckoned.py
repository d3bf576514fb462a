"""What the time of a lay-up goes by, what it takes for granted, and what it says nothing of."""

from collections.abc import Iterable, Iterator
from datetime import datetime, tzinfo
from itertools import groupby
from typing import Any

from django.utils.translation import gettext as _

from tooling.words.lay_up_from import codes, with_part
from tooling.words.when import clock_or_when, when, whole_minute


def by_the_record(*, hardware: bool) -> str:
    """What a time goes by, and what it does not say. hardware: whether the set has any."""
    text = _(
        "By the record: coats, film, holds and places. It does not say that a coat is hard or that the part will be "
        "fit: look, and check."
    )
    return f"{text} {_('Hardware is not counted.')}" if hardware else text


def told_to_lead(tools: Iterable[str]) -> str:
    """What no lead has seen yet."""
    return _("Told to the lead, not seen yet: %(tools)s.") % {"tools": ", ".join(tools)}


def not_yet_trimmed(tool: str) -> str:
    """A trim mask that may not be used holds no lay-up up."""
    return _("%(tool)s may not be used now: the part can be laid up, not yet trimmed.") % {"tool": tool}


def reckoned_out(works: Iterable[Any], at: datetime, zone: tzinfo) -> Iterator[str]:
    """An assumption: how and when the parts that are in them come out."""
    inside = sorted(with_part(works), key=_out)
    for (out_at, known), some in groupby(inside, key=_out):
        said = {"tools": codes(some), "time": clock_or_when(whole_minute(out_at), at, zone)}
        if not known:
            text = _("Nobody said when the part in %(tools)s may come out: reckoned as if it were hard and free now.")
        elif out_at > at:
            text = _(
                "Reckoned as if the part in %(tools)s is hard at %(time)s, comes off free and is out when work starts."
            )
        else:
            text = _("Reckoned as if the part in %(tools)s is hard and comes off free.")
        yield text % said + " " + _("A hard pull makes more work.")


def _out(one: Any) -> tuple[datetime, bool]:
    return one.out_at, one.out_known


def not_measured() -> str:
    """An assumption: the recipe's waits."""
    return _("Shop temperature: not measured today. Reckoned with the waits of the recipe as they stand.")


def as_measured(degrees: str, at: datetime, now: datetime, zone: tzinfo) -> str:
    """An assumption: that the shop stays as it was measured."""
    said = {"degrees": degrees, "when": when(at, now, zone)}
    text = _("Reckoned with %(degrees)s, measured %(when)s, as if it stayed so.") % said
    return text + " " + _("If it gets cooler it takes longer: check that the coat is hard.")


def slower(degrees: str, factor: float, recipe: str) -> str:
    """How a cold shop was reckoned with."""
    text = _("%(degrees)s in the shop: the waits of %(recipe)s take %(factor)s times as long.")
    return text % {"degrees": degrees, "recipe": recipe, "factor": f"{factor:.2g}"}


def as_they_stand(recipe: str) -> str:
    """An assumption: a wait that does not go by the warmth of the shop, or that runs already."""
    text = _(
        "The waits of %(recipe)s are reckoned as they stand in the recipe. In a cooler shop they take longer: check "
        "that coat and film are hard and dry."
    )
    return text % {"recipe": recipe}


def one_hand() -> str:
    """An assumption: nobody said how many hands there are."""
    return _("The shop’s settings do not say how many hands there are: reckoned with one.")
