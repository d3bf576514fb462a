"""What is asked once before it is written: a part that the shop does not know, a serial number that was used before."""

from dataclasses import dataclass
from typing import Any
from uuid import UUID

from django.utils.translation import gettext as _

from tooling.forms.deeds.base import DeedForm
from tooling.models import Part, Tool
from tooling.models.serials import split as serials
from tooling.selectors.twice import repeated, used_before
from tooling.words.when import long_day


@dataclass(frozen=True, slots=True)
class Ask:
    """A question at a field. `sure`: it was answered with "all the same"."""

    key: str
    field: str
    sure: bool


class AskingForm(DeedForm):
    """A deed that asks, and takes the same words once more where somebody is sure."""

    def __init__(self, *args: Any, **more: Any) -> None:
        super().__init__(*args, **more)
        self.asked: list[Ask] = []

    @property
    def seen(self) -> frozenset[str]:
        """The keys of what stood against it on the page that was sent."""
        return frozenset(self.data.getlist("seen") if hasattr(self.data, "getlist") else ())

    def ask(self, key: str, field: str, words: str) -> None:
        """Asks at the field, until somebody is sure."""
        sure = self.was_sent or key in (self.data.getlist("sure") if hasattr(self.data, "getlist") else ())
        self.asked.append(Ask(key, field, sure))
        if not sure:
            self.add_error(field, words)

    def ask_part(self, part: str, field: str, known: set[str]) -> None:
        """A part number that is not in the shop's list. known: those that need no asking."""
        if not part or part in known or field in self.errors:
            return
        if Part.objects.exists() and not Part.objects.filter(number__iexact=part).exists():
            text = _("There is no part %(part)s in the shop’s list. Write it all the same?")
            self.ask(f"part {part}", field, text % {"part": part})

    def ask_serials(self, tool: Tool, part: str, serial: str, token: UUID | None) -> None:
        """A serial number that stands there twice, or was used for the part before."""
        numbers = serials(serial)
        twice = repeated(numbers)
        if twice:
            text = _("%(serial)s stands there twice. Write it all the same?")
            self.ask(f"twice {serial}", "serial", text % {"serial": twice})
        found = used_before(tool, part, numbers, token) if token is not None else None
        if found is None:
            return
        number, entry = found
        said = {"serial": number, "tool": entry.tool, "day": long_day(entry.at, self.now, self.shop.zone)}
        if entry.kind == "pull":
            text = _("%(serial)s was pulled from %(tool)s on %(day)s. Write it all the same?")
        else:
            text = _("%(serial)s was laid up in %(tool)s on %(day)s. Write it all the same?")
        self.ask(f"used {serial}", "serial", text % said)
