"""A mold comes off its plug: what came off, how, where it goes, and what is known of it by now."""

from collections.abc import Mapping
from typing import Any

from django import forms
from django.core.exceptions import ValidationError
from django.utils.translation import gettext as _now
from django.utils.translation import gettext_lazy as _

from tooling.forms.catalogue import LONG_TEXT, PlaceField
from tooling.forms.deeds.asks import AskingForm
from tooling.forms.deeds.base import words
from tooling.forms.deeds.opened import OpenedPart
from tooling.forms.measures import MeasureField
from tooling.forms.walk import PicturePart, code_field, possible
from tooling.models import Entry, Place, ReleaseSystem, Tool, tidy_code
from tooling.selectors import scans
from tooling.selectors.floor import Floor
from tooling.selectors.loads import Over
from tooling.services.off_the_plug import Away, was_sent
from tooling.words.counting import capital
from tooling.words.measures import to_type, unit_for
from tooling.words.terms import CAME_OFF

MEASURED = ("mass_kg", "max_service_c", "glass_transition_c")
IN_WORDS = ("lift", "construction", "owner", "owner_ref")


class OffForm(OpenedPart, PicturePart, AskingForm):
    """How it came off, and what is said of it at once. A lead says more: what stands in the catalogue.

    off: the tool in the making that it is; None: a new one. proposed: what a new one begins with. usual: the recipe
    of each kind.
    """

    PRESSED = "came_off"
    TIME_WANTED = _("At what time did it come off?")

    came_off = forms.ChoiceField(
        choices=list(CAME_OFF.items()),
        required=False,
        error_messages={"invalid_choice": _("Tap one of the five.")},
    )
    written = forms.CharField(required=False, max_length=19)
    place = PlaceField(
        Place.objects.order_by("code"), label=_("Where it goes"), required=False, empty_label=_("not said")
    )
    home = forms.BooleanField(label=_("Its home is there from now on"), required=False)
    step = words(_("Step of its making"), longest=80)

    def __init__(
        self,
        *args: Any,
        on: Floor,
        off: Tool | None,
        proposed: Mapping[str, Any],
        usual: Mapping[str, str],
        **more: Any,
    ) -> None:
        """`proposed`: columns by name, for a new tool."""
        self.on, self.off, self.usual = on, off, usual
        self.kind: str = off.kind if off is not None else proposed["kind"]
        super().__init__(*args, on=on, **more)
        self.pull_before: Entry | None = None
        if self.who.can_lead:
            self._ask_columns(proposed)
        else:
            del self.fields["home"]

    def _ask_columns(self, proposed: Mapping[str, Any]) -> None:
        row, units = self.off or Tool(**proposed), self.who.units
        if self.off is None:
            self.fields["code"] = code_field(_("Code, as it is to stand on its tag"))
            self.fields["name"] = words(_("Name"), longest=200)
            self.initial.update(code=row.code, name=row.name)
        for column in MEASURED:
            self.fields[column] = _measured(column, units)
            self.initial[column] = to_type(row, column, units)
        for column in IN_WORDS:
            self.fields[column] = words(_named(column), longest=LONG_TEXT)
            if column == "construction":
                self.fields[column].widget.attrs["list"] = "built"
            self.initial[column] = getattr(row, column)
        if row.has_surface:
            self._ask_recipe()

    def _ask_recipe(self) -> None:
        now = self.recipe_now
        codes = [(code, code) for code in ReleaseSystem.objects.values_list("code", flat=True)]
        # Once a history has begun a recipe is changed, and not taken away.
        none = [] if self.off is not None and now else [("", _("none"))]
        self.fields["recipe"] = forms.ChoiceField(
            label=_("Release recipe"), required=False, choices=[*codes, *none], initial=now
        )

    @property
    def build_wrong(self) -> bool:
        """Whether something is wrong in what is folded away."""
        return any(name in self.errors for name in (*MEASURED, *IN_WORDS, "recipe", "step"))

    @property
    def recipe_now(self) -> str:
        """The recipe that one in the making is on; of a new one the usual of its kind."""
        if self.off is not None:
            return str(self.off.summary.state.get("system") or "")
        return self.usual.get(self.kind, "")

    @property
    def was_sent(self) -> bool:
        """Whether it was written already: with the pull, or with the beginning of the tool."""
        return was_sent(self.cleaned_data.get("token"))

    def clean(self) -> dict[str, Any]:
        """The picture is kept whatever else is wrong."""
        data = super().clean()
        self.take_picture()
        self.pull_before = self._named_pull(data.get("written", ""))
        if not data.get("came_off") and self.pull_before is None and not self.looking and "came_off" not in self.errors:
            self.add_error("came_off", _now("Tap how it came off."))
        return data

    def _named_pull(self, number: str) -> Entry | None:
        """The pull that was logged before, where somebody says that it is the one."""
        if not (number.isascii() and number.isdigit()):
            return None
        pulls = Entry.objects.filter(tool=self.on.tool, kind="pull", number=int(number)).select_related("tool", "by")
        return pulls.first()

    def clean_code(self) -> str:
        """A code that can be, and that no other tool has or had."""
        code = possible(tidy_code(scans.code_on(self.cleaned_data["code"])))
        there = Tool.objects.called(code).first()
        if there is not None and not was_sent(self.cleaned_data.get("token")):
            raise ValidationError(_now("%(code)s is there already. Give it another code.") % {"code": there.code})
        return code

    def ask_heavy(self, over: Over, text: str) -> None:
        """The place would carry too much: asked once."""
        self.ask(f"heavy {over.place.pk}", "place", text)

    @property
    def _heavy(self) -> int | None:
        sure = self.data.getlist("sure") if hasattr(self.data, "getlist") else ()
        keys = [one.removeprefix("heavy ") for one in sure if one.startswith("heavy ")]
        return next((int(key) for key in keys if key.isascii() and key.isdigit() and len(key) < 19), None)

    def columns(self) -> dict[str, Any]:
        """What the catalogue is told: of a new tool all that was said, of one that is there what was changed."""
        if not self.who.can_lead:
            return {}
        data, names = self.cleaned_data, [*MEASURED, *IN_WORDS]
        said = {name: data[name] for name in names if self.off is None or name in self.changed_data}
        recipe = data.get("recipe", "")
        if self.off is not None:
            return {**said, **({"release_system": _recipe(recipe)} if recipe != self.recipe_now else {})}
        about = {
            "code": data["code"],
            "kind": self.kind,
            "name": " ".join(data["name"].split()) or self.initial["name"],
        }
        return {**said, **about, "place": data["place"] if data["home"] else None, "release_system": _recipe(recipe)}

    def ask_whether_another(self) -> None:
        """Somebody wrote a pull a moment ago: the next tap says that it was another."""
        self.data = self.data.copy()
        self.data["another"] = "yes"
        self.add_error(None, _now("Not written yet: somebody wrote a pull here a moment ago."))

    def tell(self, wrong: ValidationError) -> None:
        """What the catalogue refused stands at its field, or at the top."""
        for name, said in wrong.message_dict.items():
            self.add_error(name if name in self.fields else None, said)

    def facts(self) -> dict[str, Any]:
        """What the service is told, besides which tool it is."""
        data = self.cleaned_data
        return {
            "came_off": "" if self.pull_before is not None else data["came_off"] or next(iter(CAME_OFF)),
            "lay_up": self.opened_with,
            "written": self.pull_before,
            "another": bool(data.get("another")),
            "columns": self.columns(),
            "away": self.away(),
        }

    def away(self) -> Away:
        """Where it goes, its step and its picture."""
        data = self.cleaned_data
        home = bool(data.get("home")) and self.off is not None
        return Away(data["place"], home, self._heavy, data["step"].strip(), self.stored)


def _measured(column: str, units: str) -> MeasureField:
    unit = unit_for(column, units)
    label = _now("%(label)s, in %(unit)s") % {"label": _named(column), "unit": unit.symbol}
    return MeasureField(unit=unit, below_zero=column.endswith("_c"), label=label)


def _named(column: str) -> str:
    return capital(str(Tool._meta.get_field(column).verbose_name))


def _recipe(code: str) -> ReleaseSystem | None:
    return ReleaseSystem.objects.filter(code=code).first() if code else None
