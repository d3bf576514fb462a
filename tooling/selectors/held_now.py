"""All that is held now: since when, by whom, on what, and who may free it."""

from dataclasses import dataclass
from datetime import datetime

from tooling.models import May, Person, Shop, Summary, Tool
from tooling.selectors.holds import HoldSaid, said_with_pictures, standing_holds
from tooling.selectors.recipes import in_force
from tooling.selectors.rights import Who, was_given, who_might
from tooling.selectors.tag_facts import recipe_on

# Beyond as many nobody reads them one below the other: Find has them all.
MOST = 200


@dataclass(frozen=True, slots=True)
class HeldNow:
    """One held tool; `stopped_by`: those who with formal records on cannot free it themselves.

    `barred`: whether nobody is left then who may free it today.
    """

    summary: Summary
    holds: list[HoldSaid]
    stopped_by: list[Person]
    barred: bool = False


@dataclass(frozen=True, slots=True)
class AllHeld:
    """Those that are held, the longest first, how many more there are, and who may free one today."""

    tools: list[HeldNow]
    more: int
    who: Who


def held_now(at: datetime) -> AllHeld:
    """What is held at this moment, in the same queries however much it is."""
    shop = Shop.current()
    held = Summary.objects.filter(tool__in=Tool.objects.held()).order_by("held_since", "tool__code")
    first = list(held.select_related("tool", "seen_place", "in_mold_of")[:MOST])
    recipes = in_force(at)
    standing = standing_holds((one, recipe_on(one, recipes)) for one in first)
    said = said_with_pictures(standing, at, shop.zone)
    keys = {key for one in first for key in one.state.get("held_by", ())}
    people = Person.objects.in_bulk(keys) if keys else {}
    who = who_may_free(at, shop)
    could = {one.pk for one, _right in who.people}
    tools = [
        HeldNow(one, said.get(one.tool_id, []), _of(one, people), barred=could <= set(one.state.get("held_by", ())))
        for one in first
    ]
    more = held.count() - len(first) if len(first) == MOST else 0
    return AllHeld(tools, more, who)


def barred_if_formal(at: datetime) -> list[Tool]:
    """The held tools that nobody could free today if formal records were on: all who may have stopped them."""
    day = at.astimezone(Shop.current().zone).date()
    who = who_might(May.FREE, day)
    could = {one.pk for one, _right in (who.given if was_given(May.FREE, day) else who.people)}
    held = Summary.objects.filter(tool__in=Tool.objects.held()).select_related("tool").order_by("tool__code")
    return [one.tool for one in held if could <= set(one.state.get("held_by", ()))]


def who_may_free(at: datetime, shop: Shop) -> Who:
    """Who may free a held tool on the shop's day."""
    return who_might(May.FREE, at.astimezone(shop.zone).date())


def _of(summary: Summary, people: dict[int, Person]) -> list[Person]:
    found = [people[key] for key in summary.state.get("held_by", ()) if key in people]
    return sorted(found, key=lambda one: one.name_key)
