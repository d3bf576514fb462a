"""A new recipe, and a change of one: a further version, never an edit."""

from collections.abc import Mapping
from datetime import datetime
from typing import Any

from django.core.exceptions import ValidationError
from django.db import IntegrityError, transaction
from django.utils.translation import gettext as _

from shared.errors import Refused
from tooling.models import RecipeVersion, ReleaseSystem, check_code, tidy_code
from tooling.selectors.recipes import tools_on
from tooling.services import recipe_columns
from tooling.services.tags import wanted
from tooling.services.times import in_bounds
from tooling.services.tools import lay_anew


@transaction.atomic
def add_system(*, code: str, columns: Mapping[str, Any]) -> RecipeVersion:
    """Add a recipe with its first version, which holds from the beginning.

    The columns are those of the sheet, as typed. Check the code; read the columns; write both rows.
    """
    code = tidy_code(code)
    try:
        check_code(code)
    except ValidationError as impossible:
        raise Refused(" ".join(impossible.messages), "code") from impossible
    if ReleaseSystem.objects.filter(code=code).exists():
        raise _already(code)
    values = _read(columns, known=code)
    try:
        with transaction.atomic():
            system = ReleaseSystem.objects.create(code=code)
    except IntegrityError as meanwhile:
        raise _already(code) from meanwhile
    return RecipeVersion.objects.create(system=system, **values)


def _already(code: str) -> Refused:
    return Refused(_("There is a recipe %(code)s already: change that one.") % {"code": code}, "code")


@transaction.atomic
def add_version(
    system: ReleaseSystem, *, at: datetime, columns: Mapping[str, Any], valid_from: datetime | None = None
) -> RecipeVersion:
    """Change a recipe from now (`at`) on, or from a later moment: what the board said before stays true.

    Lock the recipe; check the moment; read the columns as typed; write the further version; lay the spans of the
    tools on this recipe anew, with their families; say whether their tags still say what is so.
    """
    ReleaseSystem.objects.select_for_update(no_key=True).get(pk=system.pk)
    begins = at if valid_from is None else in_bounds(valid_from, "valid_from")
    if begins < at:
        raise Refused(
            _("A change holds from now on, or from a later moment; the past was judged already."), "valid_from"
        )
    if not system.versions.exists():
        raise Refused(_("The first version of a recipe holds from the beginning."), "valid_from")
    if system.versions.filter(valid_from=begins).exists():
        raise Refused(_("There is a version from that moment already."), "valid_from")
    values = _read(columns, known=system.code)
    version = RecipeVersion.objects.create(system=system, valid_from=begins, **values)
    tools = list(tools_on(system.code).values_list("pk", flat=True))
    lay_anew(tools)
    wanted.keep(tools)
    return version


def drafted_version(system: ReleaseSystem, *, columns: Mapping[str, Any]) -> RecipeVersion:
    """The further version that these columns would make, checked and not written: to see what it would change."""
    return RecipeVersion(system=system, **_read(columns, known=system.code))


def _read(columns: Mapping[str, Any], known: str) -> dict[str, Any]:
    """The values of the columns, or the first thing that is wrong with them."""
    unknown = sorted(set(columns) - set(recipe_columns.COLUMNS))
    if unknown:
        raise Refused(_("A recipe has no column %(column)s.") % {"column": unknown[0]}, unknown[0])
    values, errors = recipe_columns.read(columns)
    for column, message in errors.items():
        raise Refused(message, column)
    accepted = {code for code in values["accepts"].split(",") if code} - {known}
    there = ReleaseSystem.objects.filter(code__in=accepted).values_list("code", flat=True)
    for code in sorted(accepted - set(there)):
        raise Refused(_("There is no recipe %(code)s.") % {"code": code}, "accepts")
    return values
