"""The pages in the header, in their order: name of the address, and word."""

from django.utils.functional import Promise
from django.utils.translation import gettext_lazy as _

Page = tuple[str, str | Promise]
_pages: list[Page] = [
    ("board", _("Morning")),
    ("tools", _("Find")),
    ("parts", _("Parts")),
    ("serials", _("Serials")),
    ("racks", _("Racks")),
    ("tags", _("Tags")),
    ("recipes", _("Recipes")),
]


def register(name: str, word: str | Promise, *, after: str = "racks") -> None:
    """Adds a page of another app behind one that there is; what is known already is not added twice."""
    names = [known for known, _word in _pages]
    if name not in names:
        _pages.insert(names.index(after) + 1, (name, word))


def pages() -> tuple[Page, ...]:
    """All of them."""
    return tuple(_pages)
