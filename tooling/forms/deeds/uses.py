"""How it came off, and what is seen then."""

from collections.abc import Sequence
from typing import Any

from django import forms
from django.utils.translation import gettext as _now
from django.utils.translation import gettext_lazy as _

from tooling.calc.entry import COUNT_RANGE
from tooling.forms.deeds.asks import AskingForm
from tooling.forms.deeds.base import words
from tooling.forms.deeds.halves import HalvesPart
from tooling.forms.deeds.lay_up import LONGEST_PART, LONGEST_SERIAL
from tooling.forms.deeds.opened import OpenedPart
from tooling.forms.deeds.when import EXACT
from tooling.models import Tool
from tooling.models.serials import split as serials
from tooling.selectors.floor import Floor
from tooling.selectors.matched import Half
from tooling.words.counting import capital, in_words, serial_numbers
from tooling.words.terms import CAME_OFF
from tooling.words.when import clock_or_when

CAME_OFF_BEST = next(iter(CAME_OFF))


def count_field(label: Any) -> forms.IntegerField:
    """How many at once."""
    least, most = COUNT_RANGE
    wrong = _("It goes from 1 to 500.")
    return forms.IntegerField(
        label=label,
        required=False,
        min_value=least,
        max_value=most,
        initial=1,
        widget=forms.NumberInput(attrs={"inputmode": "numeric"}),
        error_messages={"invalid": _("Write a whole number."), "min_value": wrong, "max_value": wrong},
    )


class PullForm(OpenedPart, HalvesPart, AskingForm):
    """How it came off. Part and serial are those that were laid up, and can be changed."""

    came_off = forms.ChoiceField(
        choices=list(CAME_OFF.items()),
        error_messages={"required": _("Tap how it came off."), "invalid_choice": _("Tap one of the five.")},
    )
    count = count_field(_("How many came off at once"))
    part = words(_("Part number"), longest=LONGEST_PART)
    serial = words(_("Serial number, or several"), longest=LONGEST_SERIAL)
    film = forms.BooleanField(label=_("it had a fresh film"), required=False)

    TIME_WANTED = _("At what time did it come off?")
    PRESSED = "came_off"

    def __init__(self, *args: Any, on: Floor, offered: Sequence[Half], **more: Any) -> None:
        super().__init__(*args, on=on, of=on.tool, offered=offered, **more)
        self.tool = on.tool
        self.part_in = on.part_in
        self.before_lay_up = False
        # What it does is shown before a mark is tapped: as if it came off free.
        self.fields["came_off"].required = not self.looking
        self.initial.update(part=on.summary.part, serial=on.summary.serial)

    def clean(self) -> dict[str, Any]:
        data = super().clean()
        self._check_lay_up(data)
        known = {self.part_in.part} if self.part_in is not None else set()
        part, serial = data.get("part", ""), data.get("serial", "")
        self.ask_part(part, "part", known=known)
        self.ask_serials(self.tool, part, serial, data.get("token"))
        self._ask_so_many(data.get("count") or 1, serials(serial))
        return data

    def _ask_so_many(self, count: int, numbers: list[str]) -> None:
        """Several came off, and another number of serials is given. One pull of several cavities has one count."""
        if count > 1 and numbers and len(numbers) != count:
            said = {"count": in_words(count), "numbers": serial_numbers(len(numbers))}
            text = capital(_now("%(count)s came off, with %(numbers)s. Write it all the same?") % said)
            self.ask(f"so many {count} {', '.join(numbers)}", "serial", text)

    def _check_lay_up(self, data: dict[str, Any]) -> None:
        """The part that is in it cannot have come off before it was laid up: then it was another."""
        inside, at = self.part_in, data.get("at")
        if inside is None or at is None or at >= inside.since or self.was_sent:
            return
        same = (data.get("part"), data.get("serial")) == (inside.part, inside.serial)
        if not same:
            return
        self.before_lay_up = True
        field = "at_exact" if self.data.get("at") == EXACT else "at_time"
        said = {"when": clock_or_when(inside.since, self.now, self.shop.zone)}
        if inside.part or inside.serial:
            self.add_error(field, _now("Before its lay-up (%(when)s). Was it another part? Then say which.") % said)
        else:
            self.ask(
                "before", field, _now("Before the lay-up of what is in it (%(when)s). Was it another part?") % said
            )

    def halves_off(self) -> list[tuple[Tool, int | None]]:
        """Every half that it came off, this one first, each with the entry of its lay-up."""
        there = {half.tool.pk: half.on.part_in for half in self.offered}
        others = [one for one in self.cleaned_data["tools"] if one != self.tool]
        lay_ups = [(one, part_in.entry if (part_in := there.get(one.pk)) else None) for one in others]
        return [(self.tool, self.opened_with), *lay_ups]

    def facts(self) -> dict[str, Any]:
        """What the entry says of the pull."""
        data = self.cleaned_data
        return {
            "came_off": data["came_off"] or CAME_OFF_BEST,
            "count": data["count"] or 1,
            "part": data["part"],
            "serial": data["serial"],
            "film": True if data["film"] else None,
        }
