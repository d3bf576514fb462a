"""What is known of a tool besides its state, in words for paper."""

from collections.abc import Iterator
from datetime import date, tzinfo
from typing import Any, NamedTuple

from django.utils.dateformat import format as in_format
from django.utils.translation import gettext as _

from tooling.words import lines, working
from tooling.words.about import look_over_to_come
from tooling.words.counting import capital
from tooling.words.measures import measure
from tooling.words.places import lies
from tooling.words.when import on_paper


class Known(NamedTuple):
    """A fact by its name, "" where nobody knows it. `typed`: words that people wrote, of any length."""

    name: str
    words: str
    typed: bool = True


def facts_of(of: Any, units: str) -> Iterator[Known]:
    """The facts of a `SheetOf` in the reader's units: where it is, its lift, its numbers, where it comes from."""
    zone = of.page.shop.zone
    yield from _whereabouts(of.page, zone)
    yield from _numbers(of, units, zone)
    yield from _origin(of.page)


def _whereabouts(page: Any, zone: tzinfo) -> Iterator[Known]:
    tool, summary, home = page.tool, page.summary, page.summary.home
    yield Known(_("Home"), f"{home.name} ({home.code})" if home is not None else _("none named"))
    if summary.away and summary.seen_at is not None:
        said = {"place": capital(lies(summary)), "when": on_paper(summary.seen_at, zone)}
        yield Known(_("Last seen"), _("%(place)s, %(when)s") % said)
    yield Known(_("Owner"), ", ".join(filter(None, (tool.owner, tool.owner_ref))))
    yield Known(_("Lift"), tool.lift or str(lines.NO_LIFT))


def _numbers(of: Any, units: str, zone: tzinfo) -> Iterator[Known]:
    tool, limit, recipe = of.page.tool, of.limit, of.page.surface.recipe
    yield Known(_("Mass"), _measure(tool, "mass_kg", "kg", units), typed=False)
    yield Known(_("Size"), _size(tool, units), typed=False)
    if limit is not None:
        said = f"{limit.said} ({limit.source})" if limit.repair else str(limit.said)
        yield Known(_("Highest temperature"), said, typed=False)
    if tool.has_surface:
        yield Known(_("Recipe"), _recipe(recipe, zone) if recipe is not None else _("none chosen"))
        for one in working.in_all(of.page.surface.state, zone, working.uncounted(of.start)):
            yield Known(one.name, one.words, typed=False)
    if of.look_over is not None:
        yield Known(_("Next look-over"), _look_over(of.look_over, of.page.at.astimezone(zone).date()), typed=False)
    yield Known(_("Not before"), _day(tool.not_before) if tool.not_before else "", typed=False)


def _origin(page: Any) -> Iterator[Known]:
    kin, tool = page.kin, page.tool
    yield Known(_("Made from"), f"{kin.made_from.code}, {kin.made_from.name}" if kin.made_from is not None else "")
    before = kin.before
    yield Known(_("In the place of"), f"{before.code}, {before.name}" if before is not None else "")
    yield Known(_("Matched set"), ", ".join(filter(None, (tool.matched_set, *(one.code for one in kin.others)))))
    yield Known(_("Older codes"), ", ".join(page.aliases))
    yield Known(_("Built on"), _day(tool.built_on) if tool.built_on else "", typed=False)
    yield Known(_("Construction"), tool.construction)
    yield Known(_("Note"), tool.note)


def _size(tool: Any, units: str) -> str:
    """5350 × 720 × 310 mm; where one is not known, each by its name."""
    sizes = [_measure(tool, column, "mm", units) for column in ("length_mm", "width_mm", "height_mm")]
    if all(sizes):
        unit = sizes[0].rpartition(" ")[2]
        return " × ".join(size.removesuffix(f" {unit}") for size in sizes) + f" {unit}"
    names = (_("long"), _("wide"), _("high"))
    return ", ".join(f"{size} {name}" for size, name in zip(sizes, names, strict=True) if size)


def _measure(tool: Any, column: str, si: str, units: str) -> str:
    value = getattr(tool, column)
    return "" if value is None else str(measure(value, si, units, tool.as_typed.get(column)))


def _recipe(recipe: Any, zone: tzinfo) -> str:
    said = f"{recipe.system.code}, {recipe.name}"
    if recipe.valid_from is None:
        return said
    return _("%(recipe)s; as it is since %(day)s") % {"recipe": said, "day": on_paper(recipe.valid_from, zone)}


def _look_over(wanted: Any, today: date) -> str:
    if wanted.is_wanted(today):
        return _("wanted, as of this sheet")
    return look_over_to_come(wanted, _day)


def _day(of: date) -> str:
    return in_format(of, _("j M Y"))
