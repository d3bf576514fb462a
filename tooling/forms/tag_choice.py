"""Which tags are meant, as an address says it: some codes, what Find finds, a place's tools, or the whole list."""

from collections.abc import Iterable
from datetime import datetime

from django.db.models import QuerySet
from django.http import QueryDict
from django.utils.translation import gettext as _

from tooling.forms.tools import ToolFilter
from tooling.models import Place, Tool, tidy_code
from tooling.selectors import scans
from tooling.selectors.place_tree import below
from tooling.selectors.tags_wanted import wanted
from tooling.selectors.tools import matching

LIST, FIND, HOME, PLACES = "list", "find", "home", "places"
# More than a person ticks or types; an address would not hold many more.
MOST = 200
_LONGEST = 300


class TagChoice:
    """The tools and places whose tags are meant. `of` says where they come from; `held`: the tags that hang on them.

    What is asked for is worked out by the database: no row is read before it is shown or printed.
    """

    def __init__(self, asked: QueryDict, at: datetime) -> None:
        """`asked`: of, at (a place), tool and place (codes, several), codes (typed), held, and what Find asks."""
        self.asked, self.of, self.held = asked, asked.get("of", ""), asked.get("held") == "yes"
        self.wrong: list[str] = []
        self.left_out = 0  # retired tools that Find found as well
        tools, self.places = self._meant(at)
        self.tools = tools.held() if self.held else tools
        if self.held:
            self.places = Place.objects.none()

    @property
    def count(self) -> int:
        """How many tags."""
        return self.tools.count() + self.places.count()

    def tool_keys(self) -> list[int]:
        """The tools in the order of their codes."""
        return list(self.tools.order_by("code").values_list("pk", flat=True))

    def place_keys(self) -> list[int]:
        """The places in the order of their codes."""
        return list(self.places.order_by("code").values_list("pk", flat=True))

    def _meant(self, at: datetime) -> tuple[QuerySet[Tool], QuerySet[Place]]:
        none = Place.objects.none()
        if self.of == LIST:
            return Tool.objects.filter(pk__in=wanted().order_by().values("tool")), none
        if self.of == FIND:
            return self._found(at), none
        if self.of == HOME:
            return self._at_home(), none
        if self.of == PLACES:
            return Tool.objects.none(), Place.objects.all()
        return self._named()

    def _found(self, at: datetime) -> QuerySet[Tool]:
        filters = ToolFilter(self.asked, at)
        if not filters.is_valid():
            self.wrong.append(_("The search cannot be read any more. Choose once more in Find."))
            return Tool.objects.none()
        found = matching(filters.qs, filters.form.cleaned_data["q"])
        if self.asked.get("retired") == "yes":
            return found
        self.left_out = found.filter(summary__retired=True).count()
        return found.filter(summary__retired=False)

    def _at_home(self) -> QuerySet[Tool]:
        place = Place.objects.called(self.asked.get("at", "")[:_LONGEST]).first()
        if place is None:
            self.wrong.append(_("There is no place %(code)s.") % {"code": self.asked.get("at", "")[:40]})
            return Tool.objects.none()
        return Tool.objects.filter(summary__home__in=below([place.pk]), summary__retired=False)

    def _named(self) -> tuple[QuerySet[Tool], QuerySet[Place]]:
        typed = _pieces(self.asked.get("codes", ""))
        tools, places = _each_once(self.asked.getlist("tool")), _each_once(self.asked.getlist("place"))
        if len(typed) + len(tools) + len(places) > MOST:
            said = {"most": MOST}
            self.wrong.append(_("At most %(most)d codes at once. For more choose in Find, or the whole list.") % said)
            return Tool.objects.none(), Place.objects.none()
        self._tools = _known(tools)
        self._places = dict(Place.objects.filter(code__in=places).values_list("code", "pk"))
        self._one_by_one([*(one for one in tools if one not in self._tools), *typed])
        for code in places:
            if code not in self._places:
                self.wrong.append(_("There is no place %(code)s.") % {"code": code[:40]})
        named = Tool.objects.filter(pk__in=self._tools.values())
        return named, Place.objects.filter(pk__in=self._places.values())

    def _one_by_one(self, texts: Iterable[str]) -> None:
        """What was typed or scanned: a code, an older one, or the address on a tag; of a tool or of a place."""
        for text in texts:
            if (tool := scans.tool(text)) is not None:
                self._tools[tool.code] = tool.pk
            elif (place := scans.place(text)) is not None:
                self._places[place.code] = place.pk
            else:
                said = {"code": scans.code_on(text)[:40]}
                self.wrong.append(_("There is no tool and no place %(code)s.") % said)


def _known(codes: list[str]) -> dict[str, int]:
    return dict(Tool.objects.filter(code__in=codes).values_list("code", "pk"))


def _each_once(codes: list[str]) -> list[str]:
    return list(dict.fromkeys(tidy_code(one.replace("\x00", ""))[:_LONGEST] for one in codes if one.strip("\x00 ")))


def _pieces(text: str) -> list[str]:
    """Codes with commas, semicolons, spaces or lines between; one that is known with its spaces stays whole."""
    text = text.replace("\x00", "").strip()
    if text and Tool.objects.called(text[:_LONGEST]).exists():
        return [text]
    return list(dict.fromkeys(one[:_LONGEST] for one in text.replace(",", " ").replace(";", " ").split()))
