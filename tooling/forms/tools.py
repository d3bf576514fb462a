"""What is asked of the list of tools: words, and filters that read as one sentence."""

from datetime import datetime
from typing import Any

import django_filters
from django import forms
from django.db.models import QuerySet
from django.utils.translation import gettext_lazy as _

from shared.forms import QuickSelect
from tooling.models import Kind, Part, Place, ReleaseSystem, Shop, Tool
from tooling.selectors import looks_wanted, scans
from tooling.selectors.board import now
from tooling.selectors.making import making
from tooling.selectors.place_tree import below, in_order
from tooling.selectors.written import MANY, meant, nearest, numbers, owners, sources
from tooling.words.counting import capital

# Written into a field, as many are offered to choose from.
OFFERED = 100
KINDS = {
    Kind.PLUG: _("plugs"),
    Kind.MOLD: _("molds"),
    Kind.INSERT: _("mold inserts"),
    Kind.TRIM_MASK: _("trim masks"),
}
STATES = {
    "ready": _("that can be laid up now"),
    "soon": _("that are nearly ready"),
    "wax": _("that want wax or release"),
    "in_molds": _("with a part in them"),
    "making": _("that are in the making"),
    "look": _("that want a look-over"),
}
DEFECTS = {"yes": _("with a defect"), "no": _("without a defect")}
# What stands before that which was chosen or written, where the filters are one line.
_BEFORE = {
    "part": _("for %s"), "recipe": _("with %s"), "owner": _("owned by %s"), "made_from": _("made from %s"),
    "sort": _("in the order of %s"),
}  # fmt: skip


class FindForm(forms.Form):
    """What is asked besides the filters; the filters are added to it."""

    q = forms.CharField(
        label=_("Code, name, part, place, owner, or words of a note"),
        required=False,
        max_length=100,
        widget=forms.TextInput(
            # With a placeholder, the sheet knows whether there are words.
            attrs={
                "type": "search",
                "autocapitalize": "off",
                "spellcheck": "false",
                "autocomplete": "off",
                "data-scan": True,
                "placeholder": " ",
            }
        ),
    )
    sort = forms.ChoiceField(
        label=_("Order"),
        required=False,
        widget=QuickSelect,
        choices=[("", _("code")), ("name", _("name")), ("used", _("last use")), ("left", _("most pulls left"))],
    )
    view = forms.ChoiceField(
        label=_("Show as"),
        required=False,
        choices=[("", _("Pictures")), ("list", _("List"))],
        widget=forms.RadioSelect,
    )


def _places() -> list[tuple[str, str]]:
    """Every place after the one that it lies in, set in by how deep it lies."""
    at_place = str(_("at %(place)s"))
    return [
        (one.code, "\u2003" * depth + at_place % {"place": one.name}) for one, depth in in_order(Place.objects.all())
    ]


def _recipes() -> list[tuple[str, str]]:
    return [(code, code) for code in ReleaseSystem.objects.values_list("code", flat=True)]


def _choice(label: Any, empty: Any, choices: Any, method: str | None = None) -> django_filters.ChoiceFilter:
    named = {"method": method} if method else {}
    return django_filters.ChoiceFilter(label=label, empty_label=empty, choices=choices, widget=QuickSelect, **named)


def _written(label: Any, empty: Any, method: str) -> django_filters.CharFilter:
    attrs = {"placeholder": empty, "autocomplete": "off", "spellcheck": "false"}
    return django_filters.CharFilter(
        label=label, method=method, max_length=80, widget=forms.TextInput(attrs={**attrs, "size": 12})
    )


class ToolFilter(django_filters.FilterSet):
    """The filters, each left out where it is empty. What holds now is asked at `at`."""

    kind = _choice(_("Kind of tool"), _("all tools"), list(KINDS.items()))
    part = _written(_("Part"), _("any part"), "for_part")
    place = _choice(_("Place"), _("anywhere"), _places, "lying_at")
    state = _choice(_("State"), _("in any state"), list(STATES.items()), "in_state")
    recipe = _choice(_("Release recipe"), _("any release recipe"), _recipes, "with_recipe")
    owner = _written(_("Owner"), _("anybody"), "of_owner")
    made_from = _written(_("Made from"), _("anything"), "from_tool")
    held = _choice(_("Held"), _("held or not"), [("yes", _("held")), ("no", _("not held"))], "if_held")
    defects = _choice(_("Defects"), _("with defects or not"), list(DEFECTS.items()), "if_defects")
    home = _choice(_("Home"), _("home or not"), [("yes", _("home")), ("no", _("not home"))], "if_home")
    retired = _choice(_("Retired"), _("retired or not"), [("yes", _("retired")), ("no", _("in use"))], "if_retired")

    class Meta:
        model = Tool
        fields: list[str] = []
        form = FindForm

    def __init__(self, data: Any, at: datetime) -> None:
        super().__init__(data, queryset=Tool.objects.all())
        self.at = at
        # By the name of a written filter: what could have been meant, where nothing is so called.
        self.near: dict[str, list[str]] = {}
        self.too_short: list[str] = []

    def filter_queryset(self, queryset: QuerySet[Tool]) -> QuerySet[Tool]:
        """The tools that pass every filter; what else the form asks is none."""
        for name, one in self.filters.items():
            queryset = one.filter(queryset, self.form.cleaned_data[name])
        return queryset

    def in_words(self) -> str:
        """The filters that are set as one line: Molds, for SK520-DECK, held."""
        kind = "" if self.data.get("kind") else str(_("all tools"))
        said = [kind, *(self._in_words(name) for name in (*self.filters, "sort"))]
        line = ", ".join(one for one in said if one)
        return capital(line)

    def _in_words(self, name: str) -> str:
        if not (value := self.data.get(name, "").strip()):
            return ""
        named = {str(key): str(word).strip() for key, word in getattr(self.form.fields[name], "choices", ())}
        return str(_BEFORE.get(name, "%s")) % named.get(value, value)

    def for_part(self, tools: QuerySet[Tool], name: str, number: str) -> QuerySet[Tool]:
        """Those that made the part, as its page names them; also by half of its number."""
        named = self._meant(name, number, numbers())
        return tools if named is None else making(tools, named)

    def lying_at(self, tools: QuerySet[Tool], name: str, code: str) -> QuerySet[Tool]:
        """Those that lie there or below."""
        return tools.filter(summary__lies__in=below(Place.objects.filter(code=code).values_list("pk", flat=True)))

    def in_state(self, tools: QuerySet[Tool], name: str, group: str) -> QuerySet[Tool]:
        """Those of a group of the morning board, by the spans that hold now; those that want a look-over."""
        if group == "making":
            return tools.filter(summary__making=True, summary__retired=False)
        if group == "look":
            today = self.at.astimezone(Shop.current().zone).date()
            return tools.filter(pk__in=looks_wanted.wanted(today).values("tool"))
        return tools.filter(pk__in=now(self.at, group).values("tool"), kind__in=Kind.WITH_SURFACE)

    def with_recipe(self, tools: QuerySet[Tool], name: str, code: str) -> QuerySet[Tool]:
        """Those whose release recipe it is now."""
        return tools.filter(summary__state__system=code)

    def of_owner(self, tools: QuerySet[Tool], name: str, owner: str) -> QuerySet[Tool]:
        """Those of that owner, in any case and without accents; also by half of the name."""
        named = self._meant(name, owner, owners())
        return tools if named is None else tools.filter(owner__in=named).exclude(owner="")

    def from_tool(self, tools: QuerySet[Tool], name: str, code: str) -> QuerySet[Tool]:
        """Those that were made from the tool of that code or older code, or whose tag was scanned, or by half of it."""
        if (source := scans.tool(code)) is not None:
            return tools.filter(made_from=source)
        named = self._meant(name, code, sources())
        return tools if named is None else tools.filter(made_from__code__in=named)

    def _meant(self, name: str, text: str, there: list[str]) -> list[str] | None:
        """What was meant by what was written; None where that is still too much to make a filter of."""
        found = meant(text, there)
        if not found:
            self.near[name] = nearest(text, there)
        if len(found) > MANY:
            self.too_short.append(name)
            return None
        return found

    def if_held(self, tools: QuerySet[Tool], name: str, held: str) -> QuerySet[Tool]:
        """Those that are held themselves, or those that are not."""
        return tools.filter(summary__held_since__isnull=held == "no")

    def if_defects(self, tools: QuerySet[Tool], name: str, defects: str) -> QuerySet[Tool]:
        """Those with defects that are still open, or those without."""
        return tools.exclude(summary__open_defects=0) if defects == "yes" else tools.filter(summary__open_defects=0)

    def if_home(self, tools: QuerySet[Tool], name: str, home: str) -> QuerySet[Tool]:
        """Those that the morning board has as not home, or all others."""
        return tools.filter(summary__away=home == "no")

    def if_retired(self, tools: QuerySet[Tool], name: str, retired: str) -> QuerySet[Tool]:
        """Those that are retired, or those that are not."""
        return tools.filter(summary__retired=retired == "yes")


def offered() -> dict[str, list[str]]:
    """What the written fields offer: the first numbers, owners and codes there are."""
    parts = list(Part.objects.values_list("number", flat=True)[:OFFERED])
    return {"part": parts, "owner": owners()[:OFFERED], "made_from": sources()[:OFFERED]}
