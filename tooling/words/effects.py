"""What a deed does to the state of a tool, in a line: said on its page before it is written."""

from dataclasses import dataclass

from django.utils.translation import gettext as _

from tooling.calc.recipe import Recipe
from tooling.calc.state import BARE, PREPARING, SERVICE, State
from tooling.words.counting import capital, missing_coats, pulls
from tooling.words.family import coat_first


@dataclass(frozen=True, slots=True)
class On:
    """The surface that a deed is done to; `recipe` None where none is chosen."""

    state: State
    recipe: Recipe | None
    family: str


def effect(kind: str, on: On) -> list[str]:
    """The sentences of a kind of entry."""
    if on.recipe is None:
        return [_("No release recipe is chosen for it: this is kept in the history, and its state stays.")]
    return [words for words in _EFFECTS[kind](on, on.recipe) if words]


def _preparation(recipe: Recipe, new: bool) -> str:
    return missing_coats(recipe.sealer_coats, recipe.coats_new if new else recipe.coats_again)


def _bare(on: On, recipe: Recipe) -> list[str]:
    coats = _preparation(recipe, on.state.new)
    return [
        _("The whole surface goes back to bare: %(coats)s before the next part.") % {"coats": coats},
        _a_part(on, recipe),
        _still_held(on),
    ]


def _a_part(on: On, recipe: Recipe) -> str:
    if on.state.phase == SERVICE:
        coats = missing_coats(0, recipe.touch_up_coats)
        return _("A flange or a spot: %(coats)s before the next part.") % {"coats": coats}
    return _("A flange or a spot: its coats begin again.") if on.state.phase == PREPARING else ""


def _resurfaced(on: On, recipe: Recipe) -> list[str]:
    said = {"coats": _preparation(recipe, True)}
    return [
        _("The surface is bare and new: %(coats)s before the next part.") % said,
        _("It breaks in again.") if recipe.break_in else "",
        _("What the fillers of earlier repairs stand limits it no more."),
        _still_held(on),
    ]


def _clean(on: On, recipe: Recipe) -> list[str]:
    has_film = recipe.film_every_pull or recipe.film_first_pulls
    return [_("The coat stays on, and a film is spoiled.") if has_film else _("The coat stays on: its state stays.")]


def _build_up(on: On, recipe: Recipe) -> list[str]:
    if on.state.phase == BARE:
        return [_("It is bare, so this is flagged, and its state stays.")]
    coats = _preparation(recipe, on.state.new)
    return [_("Strip it first, from now on; then %(coats)s before the next part.") % {"coats": coats}]


def _release_check(on: On, recipe: Recipe) -> list[str]:
    if on.state.phase != SERVICE:
        return [_not_in_service()]
    coats = missing_coats(0, recipe.touch_up_coats)
    return [
        _("Passed: the days it may stand idle begin anew."),
        _("Failed: %(coats)s before the next part.") % {"coats": coats},
    ]


def _wax_wanted(on: On, recipe: Recipe) -> list[str]:
    if on.state.phase != SERVICE:
        return [_not_in_service()]
    said = {"first": coat_first(on.family), "coats": missing_coats(0, recipe.touch_up_coats)}
    return [_("%(first)s, from now on: %(coats)s before the next part.") % said]


def _interval(on: On, recipe: Recipe) -> list[str]:
    own, said = on.state.own_n, {"pulls": pulls(recipe.pulls_between)}
    now = _("Now it is %(pulls)s, as its recipe says.") % said
    if own is not None:
        now = _("Now it is %(own)s, its own number; its recipe says %(pulls)s.") % {**said, "own": pulls(own)}
    parts = [f"{part}: {pulls(count)}" for part, count in sorted(on.state.part_n.items())]
    break_in = _("The first coats after a preparation keep to the break-in of the recipe.") if recipe.break_in else ""
    return [now, f"{capital('; '.join(parts))}." if parts else "", break_in]


def _not_in_service() -> str:
    return _("Its coats are not all on: this is kept in the history, and its state stays.")


def _still_held(on: On) -> str:
    return _("It stays held.") if on.state.holds else ""


_EFFECTS = {
    "strip": _bare,
    "repair": _bare,
    "polish": _bare,
    "resurfaced": _resurfaced,
    "clean": _clean,
    "build_up": _build_up,
    "release_check": _release_check,
    "wax_wanted": _wax_wanted,
    "interval": _interval,
}
