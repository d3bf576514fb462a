"""A row that belongs to a tool, such as a pass or a cut: how its changes are kept, and what a person reads of them."""

import json
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from django.db.models import Model
from django.utils.functional import Promise
from django.utils.translation import gettext as _

from tooling.words.about import Changed
from tooling.words.counting import capital

# A column with what stood in it as text, in the units of the reader.
Value = Callable[[Any, str, str], str]


@dataclass(frozen=True, slots=True)
class RowWords:
    """Of one kind of row. key: the name of the row among what is kept, and in the sentences.

    changed, added, taken: the sentences, with the name of the row and, but for the first, its `facts`.
    """

    key: str
    model: type[Model]
    value: Value
    changed: str | Promise
    added: str | Promise
    taken: str | Promise

    def as_kept(self, name: str, columns: Mapping[str, str]) -> str:
        """A row, or some columns of it, as a change is stored: the same on every machine."""
        return json.dumps({self.key: name, **columns}, ensure_ascii=False)

    def said(self, change: Any, system: str) -> Changed:
        """A change of the row, numbers in the reader's units."""
        was, now = (json.loads(text) if text else {} for text in (change.before, change.after))
        name = (now or was).get(self.key, "")
        if was and now:
            before, after = self._facts(was, system), self._facts(now, system)
            return Changed(change.at, change.who, str(self.changed) % {self.key: name}, before, after, False)
        text = str(self.added if now else self.taken)
        said = text % {self.key: name, "facts": self._facts(now or was, system)}
        return Changed(change.at, change.who, said, "", "", True)

    def _facts(self, kept: Mapping[str, str], system: str) -> str:
        fields = ((self.model._meta.get_field(name), text) for name, text in kept.items() if name != self.key)
        facts = ((named(field), self.value(field, text, system)) for field, text in fields)
        return ", ".join(f"{name}: {value or _('not said')}" for name, value in facts)


def named(field: Any) -> str:
    """What a column is called, as a sentence begins with it."""
    return capital(str(field.verbose_name))
