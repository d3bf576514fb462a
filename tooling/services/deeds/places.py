"""Where a tool is, and who has it."""

from collections.abc import Collection
from datetime import date
from typing import Unpack

from shared import clock
from shared.errors import Refused
from tooling.models import Entry, Place, Shop, Summary, Tool
from tooling.services.deeds.base import Said
from tooling.services.deeds.loan_rules import wrong_with
from tooling.services.drafts import LeftAlone
from tooling.services.ledger import record


def move(
    tool: Tool, *, place: Place | None, home: bool = False, counted: int | None = None, **said: Unpack[Said]
) -> Entry:
    """Put somewhere (None: nobody knows where); `home` makes that place its home from then on.

    counted: the number of the count that met it there, or missed it.
    """
    return record(tool, "moved", place=place, home=home, counted=counted, **said)


def miss(tool: Tool, *, counted: int, within: Collection[int], **said: Unpack[Said]) -> Entry:
    """Not met in a count of the places with these keys: nobody knows where it is.

    Where it is known to lie elsewhere by now it still does: nobody looked for it there.
    """

    def looked(asked: Tool) -> bool | None:
        lies = Summary.objects.values_list("lies", flat=True).get(tool=asked)
        return None if lies in within else False

    return record(tool, "moved", place=None, seen=LeftAlone(looked), counted=counted, **said)


def change_home(tool: Tool, *, place: Place | None, **said: Unpack[Said]) -> Entry:
    """At home at a place from now on (None: nowhere in particular). Nobody saw it there."""
    return record(tool, "moved", place=place, home=True, seen=False, **said)


def lend(tool: Tool, *, person: str, until: date | None = None, **said: Unpack[Said]) -> Entry:
    """Lent to a person or a company, until a day where one was agreed: refused without a name, or with a day before."""
    lent_on = (said.get("at") or clock.now()).astimezone(Shop.current().zone).date()
    for field, message in wrong_with(person, until, lent_on).items():
        raise Refused(message, field)
    return record(tool, "lent", person=person, until=until, **said)


def hand_back(tool: Tool, **said: Unpack[Said]) -> Entry:
    """Back from whoever had it."""
    return record(tool, "handed_back", **said)
