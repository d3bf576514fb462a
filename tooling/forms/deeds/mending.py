"""Work that mends a surface: how and with what, which defects it closes, what was measured after it, pictures."""

from collections.abc import Sequence
from typing import Any

from django.utils.functional import Promise
from django.utils.translation import gettext as _now
from django.utils.translation import gettext_lazy as _

from shared.units import stored
from tooling.calc.defect_lines import write_defects
from tooling.forms.deeds.all_the_same import AskedFirst
from tooling.forms.deeds.base import DeedForm, chips, words
from tooling.forms.deeds.defects import CloseDefects
from tooling.forms.deeds.pictures import WithPictures
from tooling.forms.deeds.reading_rows import ReadingRows
from tooling.forms.deeds.readings import LONGEST_WORD
from tooling.forms.deeds.surface import LONGEST_LOT
from tooling.forms.deeds.work import StandsField, stands
from tooling.forms.pictures import PictureFiles, accepted
from tooling.models import Defect
from tooling.models.fields import plain
from tooling.selectors.defects import DefectNow
from tooling.selectors.measured_before import Before
from tooling.services.defects import closed_before
from tooling.words.measures import unit_for
from tooling.words.terms import AREAS, METHODS

# What each work mends as a rule: closing these is proposed. A crack, or what is loose, is not mended by a new surface.
_ON_THE_SURFACE = frozenset({"chip", "crazing", "scratch", "gouge", "pit", "blister", "print_through", "dull", "wear"})
_MENDS = {"polish": frozenset({"scratch", "dull"}), "resurfaced": _ON_THE_SURFACE}
# A limit below is asked about: common practice, no source.
_COOL_C = 40
_SAYS_HOW = ("method", "material", "lot", "stands", "note")
_MATERIAL: dict[str, Promise] = {
    "repair": _("Filler, gel or patch"),
    "polish": _("Compound or paper"),
    "resurfaced": _("Gel coat, or what it was cut back with"),
}


class MendForm(AskedFirst, CloseDefects, WithPictures, DeedForm):
    """Offers the open ones of `defects`; what is said of a closed one is refused, unless it was sent before.

    Of a repair nothing goes without saying, and the whole surface is asked about once: it is bare then.

    kind: repair, polish or resurfaced. mended: the defects that the page was opened for, by their numbers.
    """

    CALLED = {"value": "stands"}

    method = chips(_("How it was mended"), list(METHODS.items()))
    area = chips(_("Where"), list(AREAS.items()))
    before = PictureFiles(label=_("Choose pictures of before"), required=False)

    def __init__(
        self,
        *args: Any,
        kind: str,
        before: Before,
        defects: Sequence[DefectNow],
        mended: Sequence[int] = (),
        **more: Any,
    ) -> None:
        super().__init__(*args, defects=defects, **more)
        self.kind, self.every = kind, tuple(defects)
        self.open_defects = tuple(one for one in defects if one.is_open)
        closes = self.fields["closes"]
        closes.widget.choices = [one for one in closes.choices if one[0] in {of.number for of in self.open_defects}]
        self.fields["before"].widget.attrs["accept"] = accepted()
        self.fields["material"] = words(_MATERIAL[kind], longest=LONGEST_WORD)
        self.fields["lot"] = words(_("Its lot"), longest=LONGEST_LOT)
        self.fields["material"].widget.attrs["list"] = "materials"
        self.fields["lot"].widget.attrs["list"] = "lots"
        if kind == "repair":
            self.fields["stands"] = StandsField(unit=unit_for("stands_c", self.who.units))
        if kind != "repair":
            del self.fields["method"]
        if kind == "resurfaced":
            del self.fields["area"]
        self.initial["closes"] = self._proposed(mended)
        if self.initial["closes"]:
            self.initial["area"] = "spot"
        if len(self.open_defects) > 1:
            offered = [(one.number, str(one.number)) for one in self.open_defects]
            self.fields["shows"] = chips(_("Which defect the pictures show"), [*offered, ("", _("not said"))])
        self.measured = ReadingRows(self, before, prefix="m_", may_be_left=True)

    def _proposed(self, mended: Sequence[int]) -> list[int]:
        """Those that the page was opened for, else what such work mends, where there is no doubt which."""
        if mended:
            return [one.number for one in self.open_defects if one.number in mended]
        kinds = _MENDS.get(self.kind)
        found = [one.number for one in self.open_defects if kinds is None or one.defect.kind in kinds]
        return found if self.kind == "resurfaced" or len(found) == len(self.open_defects) == 1 else []

    @property
    def measured_open(self) -> bool:
        """Whether what was measured is shown at once: something of it was typed, or is wrong."""
        names = [name for name in self.fields if name.startswith("m_")]
        return self.is_bound and any(self.data.get(name) or self.errors.get(name) for name in names if "value" in name)

    def clean(self) -> dict[str, Any]:
        data = super().clean()
        self.measured.clean()
        if not self.was_sent:
            self._say_what_is_missing(data)
        for one in self.every:
            if not one.is_open and one.number in data.get("closes", ()) and not self.was_sent:
                self.add_error("closes", closed_before(one, self.now, self.shop.zone))
        return data

    def _say_what_is_missing(self, data: dict[str, Any]) -> None:
        if "area" in self.fields and not (data.get("area") or data.get("closes") or "area" in self.errors):
            self.add_error("area", _now("Say where: the whole surface, the flange or a spot."))
        if self.kind == "repair" and not any(data.get(name) or name in self.errors for name in _SAYS_HOW):
            self.add_error("method", _now("Say how it was mended, or say it in words."))

    def doubts(self, data: dict[str, Any]) -> list[str]:
        found, stands_how = [], data.get("stands")
        if self.kind == "repair" and data.get("area") == "whole":
            found += [
                _now("The whole surface: it is bare then, and every coat goes on anew. For less choose the spot.")
            ]
        if stands_how is not None and stands_how.si < _COOL_C:
            text = _now(
                "A filler that stands %(stands)s only: a part that cures gets warmer than that. Check the number."
            )
            found += [text % {"stands": f"{plain(stored(stands_how.number)):f} {stands_how.unit.symbol}"}]
        return found

    def facts(self) -> dict[str, Any]:
        """What is written of it."""
        data = self.cleaned_data
        said = {name: data[name] for name in ("method", "material", "lot") if name in data}
        if "area" in data:
            said["area"] = data["area"] or ("spot" if data["closes"] else "whole")
        closed = write_defects(self.lines())
        more = {"defects": closed, "readings": self.measured.facts()}
        return {"kind": self.kind, **said, **stands(data.get("stands")), **more}

    @property
    def pictured(self) -> Defect | None:
        """The defect that the pictures show; None where nobody can tell."""
        closed = self.cleaned_data["closes"]
        said = self.cleaned_data.get("shows")
        number = int(said) if said else closed[0] if len(closed) == 1 else None
        return next((one.defect for one in self.every if one.number == number), None)
