"""Look-overs in words: on the board those of now and of the next days."""

from datetime import date
from typing import Any

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy, ngettext

from tooling.words.about import look_over_to_come
from tooling.words.counting import in_words
from tooling.words.deeds import LOOK
from tooling.words.lines import Figure, Line, OnBoard, about
from tooling.words.opening import Clause
from tooling.words.status import Sentence
from tooling.words.usable_set import look_over_wanted
from tooling.words.when import day_figure, whole_day

TO_LOOK_OVER = gettext_lazy("To be looked over")


def to_look_over(tool: Any, next_one: Any, today: date) -> Line:
    """Now, or after how many pulls, or by which day."""
    row, now = OnBoard(tool), next_one.is_wanted(today)
    if now:
        late = next_one.day is not None and next_one.day <= today
        said = look_over_wanted(next_one.pulls, late, of_cuts=next_one.of_cuts).rstrip(".")
        return Line(row, Figure(_("now"), ""), about(row), "", Sentence(said), deed=LOOK, to=tool.code)
    to_come = look_over_to_come(next_one, lambda of: whole_day(of, today))
    said = Sentence(_("Next look-over"), to_come)
    return Line(row, _figure(next_one, today), about(row), "", said, deed=LOOK, to=tool.code, likely=False)


def _figure(next_one: Any, today: date) -> Figure:
    left, on = next_one.pulls, next_one.day
    if on is not None and (left is None or (on - today).days < left):
        return Figure(day_figure(on, today), _("at the latest"))
    if next_one.of_cuts:
        return Figure(str(left), ngettext("part, then a look-over", "parts, then a look-over", left))
    return Figure(str(left), ngettext("pull, then a look-over", "pulls, then a look-over", left))


def opening(count: int) -> Clause:
    """In the sentence that opens the board."""
    text = ngettext("%(n)s tool is to be looked over soon", "%(n)s tools are to be looked over soon", count)
    return Clause("look", text % {"n": in_words(count)})
