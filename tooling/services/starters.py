"""Starter recipes, offered to an empty shop. Common practice without a source: each shop sets its own numbers."""

from dataclasses import dataclass, field
from typing import Any

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from shared.errors import Refused
from tooling.models import NO_SOURCE, RecipeVersion
from tooling.services.recipes import add_system


@dataclass(frozen=True, slots=True)
class Starter:
    """One recipe on offer; columns it does not name keep their defaults."""

    code: str
    name: Any
    family: str
    columns: dict[str, Any] = field(default_factory=dict)


_WAX = {"coat_gap_minutes": 60, "wipe_minutes": 10, "cure_hours_preparation": 12, "cure_hours_touch_up": 1}
_FILM = {"film_dry_minutes": 30, "film_good_hours": 24}
_EVERY_PULL = {"break_in": "", "pulls_between": 1}
_SEMI = {
    "sealer_coats": 2,
    "coats_new": 4,
    "coats_again": 4,
    "break_in": "",
    "pulls_between": 8,
    "coat_gap_minutes": 15,
    "cure_hours_preparation": 1,
    "cure_hours_touch_up": 0.5,
}

_ALL = (
    Starter("WAX", gettext_lazy("Paste wax on a mold"), "paste_wax", _WAX),
    Starter("SEMI", gettext_lazy("Semi-permanent on a mold"), "semi_permanent", _SEMI),
    Starter(
        "WAX-FILM",
        gettext_lazy("Paste wax with film on a new mold"),
        "paste_wax",
        {**_WAX, **_FILM, "film_first_pulls": 3},
    ),
    Starter(
        "WAX-PLUG",
        gettext_lazy("Paste wax with film for plugs; look it over after each pull"),
        "paste_wax",
        {**_WAX, **_FILM, **_EVERY_PULL, "film_every_pull": True},
    ),
    Starter(
        "WAX-INSERT",
        gettext_lazy("Paste wax for mold inserts, on all faces"),
        "paste_wax",
        {**_WAX, **_EVERY_PULL},
    ),
)
STARTERS = {starter.code: starter for starter in _ALL}


def add_starter(name: str) -> RecipeVersion:
    """Take one starter recipe, by its code, into the shop; it says in its own source that it has none."""
    starter = STARTERS.get(name.strip().upper())
    if starter is None:
        choices = {"name": name, "names": ", ".join(STARTERS)}
        raise Refused(_("There is no starter recipe %(name)s. Choose one of %(names)s.") % choices, "code")
    columns = {"name": str(starter.name), "family": starter.family, "supplier_sheet": str(NO_SOURCE), **starter.columns}
    return add_system(code=starter.code, columns=columns)
