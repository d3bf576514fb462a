"""A part is cut against a trim mask: how it went, which part, with what, and how long it took."""

import re
from collections.abc import Iterable
from decimal import Decimal
from typing import Any

from django import forms
from django.utils.translation import gettext as _now
from django.utils.translation import gettext_lazy as _
from django.utils.translation import ngettext

from tooling.calc.entry import part_key
from tooling.forms.deeds.asks import AskingForm
from tooling.forms.deeds.base import chips, ticks, words
from tooling.forms.deeds.lay_up import LONGEST_PART, LONGEST_SERIAL
from tooling.forms.deeds.readings import NumberField
from tooling.forms.deeds.uses import count_field
from tooling.models import PartRevision, Tool
from tooling.models.codes import tidy_code
from tooling.models.serials import split as serials
from tooling.selectors.twice import repeated
from tooling.services.drafts import LeftAlone
from tooling.words.counting import capital, in_words, serial_numbers
from tooling.words.when import moment
from trimfixtures.selectors.trimming import Offered, metres, never_made, not_in_library, trimmed_before
from trimfixtures.words.outcomes import GOOD, OUTCOMES

LONGEST_CUTTERS = 200
# A day and a night at one part: beyond, a number of minutes is a slip.
MOST_MINUTES = 24 * 60
_MINUTES = re.compile(r"[0-9]{1,4}(\.[0-9])?")


class TrimForm(AskingForm):
    """How it went. Serial number, part and cutters are those that are likely, and can be changed."""

    CALLED = {"cutter": "other_cutter"}
    PRESSED = "outcome"
    TIME_WANTED = _("At what time was it cut?")

    outcome = forms.ChoiceField(
        choices=[(word, one.word) for word, one in OUTCOMES.items()],
        error_messages={"required": _("Tap how it went."), "invalid_choice": _("Tap one of the four.")},
    )
    other_serial = words(
        _("Another serial number, or several"),
        longest=LONGEST_SERIAL,
        help_text=_("It is taken instead of the one that the page has ticked. Two that were cut: type both."),
    )
    # What the page has ticked by itself: whoever types another number need not untick it.
    likely = forms.CharField(required=False, max_length=LONGEST_SERIAL, widget=forms.HiddenInput)
    part = words(_("Part number"), longest=LONGEST_PART)
    count = count_field(_("How many were trimmed"))
    other_cutter = words(_("Another cutter"), longest=LONGEST_CUTTERS)
    minutes = NumberField(label=_("Minutes it took in all"))

    def __init__(self, *args: Any, tool: Tool, offered: Offered, **more: Any) -> None:
        super().__init__(*args, **more)
        self.tool, self.offered = tool, offered
        self.fields["count"].initial = None
        self.fields["outcome"].required = not self.looking
        self.fields["serial"] = ticks(_("Serial number"), [(one, one) for one in self._kept("serial", offered.serials)])
        cutters = [(one, self._cutter_said(one)) for one in self._kept("cutter", offered.cutters)]
        self.fields["cutter"] = ticks(_("Cutter"), cutters)
        lately = self._kept("took", map(str, offered.minutes))
        took = [(one, _now("%(minutes)s min") % {"minutes": one}) for one in lately if _MINUTES.fullmatch(one)]
        self.fields["took"] = chips(_("Minutes for each part"), [("", _("not said")), *took])
        likely = [offered.likely] if offered.likely else []
        self.initial |= {"serial": likely, "likely": offered.likely, "part": offered.part}
        self.initial["cutter"] = [one for one in offered.cutters if one not in offered.gone]

    def _kept(self, name: str, offered: Iterable[str]) -> list[str]:
        """What is offered, and what stood on the page that was sent: somebody may have written it meanwhile."""
        stood = self.data.getlist(name) if self.is_bound and hasattr(self.data, "getlist") else []
        # PostgreSQL has no letter NUL.
        return list(dict.fromkeys([*offered, *(one[:LONGEST_PART] for one in stood[:20] if "\x00" not in one)]))

    def _cutter_said(self, code: str) -> str:
        return _now("%(code)s, gone") % {"code": code} if code in self.offered.gone else code

    @property
    def done_already(self) -> str:
        """That the serial number which was chosen before was trimmed with it, and when; "" where it waits."""
        again = self.offered.again
        if again is None:
            return ""
        said = {"serial": self.offered.serials[-1], "when": moment(again.at, self.now, self.shop.zone)}
        return _now("%(serial)s was trimmed with it already: %(when)s. Tick it where it was cut once more.") % said

    @property
    def ticked(self) -> list[str]:
        """The serial numbers that are ticked as the form stands."""
        asked = self["serial"].value() or ()
        return [one for one in self.offered.serials if one in asked]

    @property
    def asked_part(self) -> str:
        """The part that it is asked for as the form stands."""
        asked = (self["part"].value() or "").strip()[:LONGEST_PART]
        return "" if "\x00" in asked else asked

    @property
    def revision(self) -> PartRevision | None:
        """Of which revision all that is ticked was laid up; None where that is not known, or not one."""
        known = {self.offered.revisions.get(one) for one in self.ticked}
        same = part_key(self.asked_part) == part_key(self.offered.part)
        return known.pop() if same and len(known) == 1 else None

    @property
    def opened(self) -> bool:
        """Whether the fold stands open: something is wrong in it, or no serial number waits."""
        folded = ("other_serial", "part", "count", "cutter", "other_cutter", "took", "minutes", "note")
        return not self.offered.serials or any(self.errors.get(name) for name in folded)

    def clean_cutter(self) -> list[str]:
        """A comma stands between two of them."""
        return [" ".join(one.replace(",", " ").split()) for one in self.cleaned_data["cutter"]]

    def clean(self) -> dict[str, Any]:
        data = super().clean()
        chosen, typed, part = data.get("serial", []), serials(data.get("other_serial", "")), data.get("part", "")
        if typed and chosen == [data.get("likely")]:
            chosen = []
        data["numbers"] = numbers = serials(", ".join([*chosen, *typed]))
        ticked = [one for one in chosen if one in self.offered.serials]
        other = part_key(part) != part_key(self.offered.part)
        if ticked and other and "part" not in self.errors and not self.was_sent:
            said = {"serial": ", ".join(ticked), "part": self.offered.part}
            self.add_error("part", _now("%(serial)s is of part %(part)s. Untick it, or leave the part.") % said)
        self.ask_part(part, "part", known={self.offered.part})
        self._ask_numbers(part, numbers, data.get("token"))
        self._ask_known(part, typed)
        self._ask_so_many(data.get("count"), numbers)
        self._ask_cutters(data)
        if (data.get("minutes") or 0) > MOST_MINUTES:
            self.add_error("minutes", _now("That is more than a day. Check the minutes."))
        return data

    def _ask_numbers(self, part: str, numbers: list[str], token: Any) -> None:
        """A number that stands there twice, or was trimmed with this trim mask before."""
        twice, before = repeated(numbers), None
        if twice:
            text = _now("%(serial)s stands there twice. Write it all the same?")
            self.ask(f"twice {twice}", "other_serial", text % {"serial": twice})
        if token is not None and numbers:
            before = trimmed_before(self.tool, part, numbers, token)
        if before is not None:
            said = {"serial": before[0], "when": moment(before[1].at, self.now, self.shop.zone)}
            text = _now("%(serial)s was trimmed with it already: %(when)s. Write it once more?")
            self.ask(f"trimmed {', '.join(numbers)}", "other_serial", text % said)
        if not numbers and self.offered.numbered:
            self.ask("nameless", "other_serial", _now("No serial number is said. Write it without one?"))

    def _ask_known(self, part: str, typed: list[str]) -> None:
        """A number that nobody laid up or pulled."""
        unknown = never_made(part, typed) if typed else ""
        if unknown:
            text = _now("No lay-up and no pull names %(serial)s. Write it all the same?")
            if part:
                text = _now("No lay-up and no pull of %(part)s names %(serial)s. Write it all the same?")
            self.ask(f"unknown {unknown}", "other_serial", text % {"part": part, "serial": unknown})

    def _ask_cutters(self, data: dict[str, Any]) -> None:
        """One that the library does not have; and which one was taken in the place of one that is gone."""
        typed = [one for one in self._others(data.get("other_cutter", "")) if one not in data.get("cutter", ())]
        unknown = not_in_library(typed) if typed else []
        if unknown:
            codes = ", ".join(unknown)
            text = ngettext(
                "There is no cutter %(codes)s in the library. Write it all the same?",
                "There are no cutters %(codes)s in the library. Write them all the same?",
                len(unknown),
            )
            self.ask(f"cutter {codes}", "other_cutter", text % {"codes": codes})
        gone = [one for one in self.offered.gone if one not in data.get("cutter", ())]
        if gone and not typed:
            codes = ", ".join(gone)
            text = ngettext(
                "%(codes)s is gone. Which one did you take? Or write it without.",
                "%(codes)s are gone. Which ones did you take? Or write it without.",
                len(gone),
            )
            self.ask(f"gone {codes}", "other_cutter", text % {"codes": codes})

    def _ask_so_many(self, count: int | None, numbers: list[str]) -> None:
        if count is not None and numbers and len(numbers) != count:
            said = {"count": in_words(count), "numbers": serial_numbers(len(numbers))}
            text = capital(_now("%(count)s trimmed, with %(numbers)s. Write it all the same?") % said)
            self.ask(f"so many {count} {', '.join(numbers)}", "count", text)

    @property
    def how_many(self) -> int:
        """As many as was said, else as many as have a serial number."""
        return self.cleaned_data.get("count") or max(1, len(self.cleaned_data["numbers"]))

    @property
    def cutters(self) -> list[str]:
        """The codes of what was taken."""
        return list(dict.fromkeys([*self.cleaned_data["cutter"], *self._others(self.cleaned_data["other_cutter"])]))

    @staticmethod
    def _others(typed: str) -> list[str]:
        """The codes that were typed, with commas between, as codes are written."""
        return [one for one in (tidy_code(" ".join(one.split())) for one in typed.split(",")) if one]

    def facts(self) -> dict[str, Any]:
        """What the entry says of the cut."""
        data, cutters, count = self.cleaned_data, self.cutters, self.how_many
        outcome = data["outcome"]
        return {
            "outcome": "" if outcome == GOOD else outcome,
            "count": count,
            "part": data["part"],
            "revision": self.revision if not data["other_serial"] else None,
            "serial": ", ".join(data["numbers"]),
            "cutter": ", ".join(cutters),
            "metres": LeftAlone(lambda tool: metres(tool, cutters, count)),
            "minutes": data["minutes"] or (Decimal(data["took"]) * count if data["took"] else None),
        }
