"""A tool of the catalogue: brought in, and changed by a lead. What stood there before is kept."""

from collections.abc import Mapping
from datetime import datetime
from typing import Any

from django.db import transaction
from django.utils.translation import gettext as _

from shared.errors import Refused
from tooling.models import Person, Place, ReleaseSystem, Summary, Tool, ToolAlias, ToolChange, tidy_code
from tooling.models.fields import NumberField
from tooling.services import deeds, look_overs, search, ties
from tooling.services.kept import check_as_read, in_words
from tooling.services.measures import keep
from tooling.services.saving import save
from tooling.services.tags import wanted
from tooling.services.tools import add_tool, relay

# How a tool began: with a history these change by a deed or not at all.
_BY_DEED = ("release_system", "place")
_AT_THE_START = ("kind", "in_making")


@transaction.atomic
def bring_in(*, by: Person, at: datetime, columns: Mapping[str, Any]) -> Tool:
    """A new tool with an empty history, and who brought it in. Raises ValidationError by field, or Refused."""
    begun = Tool()
    _set(begun, columns)
    names = [field.name for field in Tool._meta.concrete_fields if not field.primary_key]
    tool = add_tool(**{name: getattr(begun, name) for name in names})
    ToolChange.objects.create(tool=tool, at=at, who=by, field="code", after=tool.code)
    return tool


@transaction.atomic
def change_tool(
    tool: Tool, *, by: Person, at: datetime, columns: Mapping[str, Any], read: Tool | None = None
) -> list[ToolChange]:
    """Changes these columns of a tool and keeps what stood there before. `read`: the row as the form was judged by.

    Lock the tool, and all that it is to come from or to take the place of; refuse what a history has settled, and what
    was changed since it was read; set the columns and check them all; keep the old code as an alias; write the row and
    its changes; another recipe or home goes through its deed, or into the start where nothing is written yet; count its
    look-overs again; make the words anew that it is found by, and say whether its tag still says what is so.
    """
    # Its summary first, as every deed does: its count says whether there is a history, and no deed comes in between.
    summary = Summary.objects.select_for_update(of=("self",)).get(tool=tool)
    behind = (key for column in ties.LOOPS for key in ties.behind(columns.get(column), column))
    locked = _locked({tool.pk, *behind})
    tool = locked[tool.pk]
    begun = summary.count > 0
    if begun and (settled := [name for name in _AT_THE_START if name in columns]):
        raise Refused(_("This cannot be changed any more: its history has begun."), settled[0])
    if columns.get("kind", tool.kind) != tool.kind:
        _check_kind(tool)
    own = {name: value for name, value in columns.items() if not (begun and name in _BY_DEED)}
    before = {name: in_words(getattr(tool, name)) for name in own}
    check_as_read(before, read)
    code = tool.code
    _set(tool, own)
    for column in ties.LOOPS.keys() & own.keys():
        ties.check(tool, column, locked)
    save(tool)
    if tool.code != code:
        _keep_old_code(tool, code)
    changes = _written(tool, by, at, before)
    if begun:
        _by_deeds(tool, by, columns)
    elif own.keys() & {*_BY_DEED, *_AT_THE_START}:
        relay([tool.pk])
    if own.keys() & look_overs.COLUMNS:
        look_overs.anew([tool.pk])
    search.keep([tool.pk])
    wanted.keep([tool.pk])
    return changes


def _set(tool: Tool, columns: Mapping[str, Any]) -> None:
    for name, value in columns.items():
        if isinstance(Tool._meta.get_field(name), NumberField):
            keep(tool, name, value)
        else:
            setattr(tool, name, value)
    tool.code = tidy_code(tool.code)


def _check_kind(tool: Tool) -> None:
    """Refuses another kind while a part needs the tool as what it is."""
    line = tool.in_sets.select_related("revision__part").order_by("pk").first()
    if line is not None:
        text = _("It stands in the tool set of %(part)s as what it is. Take it out there first.")
        raise Refused(text % {"part": line.revision}, "kind")


def _locked(keys: set[int]) -> dict[int, Tool]:
    """These tools by their keys, locked in one order, so that nobody waits for somebody who waits for him."""
    rows = Tool.objects.select_for_update(of=("self",), no_key=True).filter(pk__in=keys)
    return {row.pk: row for row in rows.order_by("pk")}


def _keep_old_code(tool: Tool, code: str) -> None:
    """The old code leads to the tool for ever; one that is taken back is no old code any more."""
    ToolAlias.objects.filter(tool=tool, code=tool.code).delete()
    ToolAlias.objects.get_or_create(tool=tool, code=code)


def _written(tool: Tool, by: Person, at: datetime, before: Mapping[str, str]) -> list[ToolChange]:
    after = {name: in_words(getattr(tool, name)) for name in before}
    return ToolChange.objects.bulk_create(
        ToolChange(tool=tool, at=at, who=by, field=name, before=was, after=after[name])
        for name, was in before.items()
        if was != after[name]
    )


def _by_deeds(tool: Tool, by: Person, columns: Mapping[str, Any]) -> None:
    if "release_system" in columns:
        system: ReleaseSystem | None = columns["release_system"]
        if system is None:
            raise Refused(_("A tool with a history keeps a recipe: choose another one."), "release_system")
        deeds.change_release_system(tool, release_system=system.code, by=by, recorded_by=by)
    if "place" in columns:
        place: Place | None = columns["place"]
        deeds.change_home(tool, place=place, by=by, recorded_by=by)
