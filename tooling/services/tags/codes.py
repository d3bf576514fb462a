"""The codes of many tags at once: those that are kept, and those that have to be worked out."""

from collections.abc import Mapping

from shared.paper import qr
from shared.pieces import in_pieces
from tooling.models import TagCode

# So many at a time: a database takes no endless list of keys.
_AT_ONCE = 500


def of_tools(codes: Mapping[int, str], site_url: str, *, keep: bool = True) -> dict[int, qr.Matrix]:
    """For the keys of tools, each with its code, what their tags lead to; `keep` writes down what was worked out."""
    return _of("tool", qr.TOOL, codes, site_url, keep)


def of_places(codes: Mapping[int, str], site_url: str, *, keep: bool = True) -> dict[int, qr.Matrix]:
    """The same for places."""
    return _of("place", qr.PLACE, codes, site_url, keep)


def _of(column: str, kind: str, codes: Mapping[int, str], site_url: str, keep: bool) -> dict[int, qr.Matrix]:
    found: dict[int, qr.Matrix] = {}
    addresses = {key: qr.address(site_url, kind, code) for key, code in codes.items()}
    for keys in in_pieces(list(addresses), _AT_ONCE):
        kept = TagCode.objects.filter(**{f"{column}__in": keys}).values_list(column, "address", "modules", "dark")
        found |= {key: qr.Matrix(*rest) for key, *rest in kept if rest[0] == addresses[key]}
        made = {key: qr.made(addresses[key]) for key in keys if key not in found}
        if keep and made:
            _keep(column, made)
        found |= made
    return found


def _keep(column: str, made: Mapping[int, qr.Matrix]) -> None:
    """In place of those for an older address. Of two that make the same code at once, the later writes it again.

    In one order, so that neither waits for the other.
    """
    rows = [
        TagCode(**{f"{column}_id": key}, address=one.address, modules=one.modules, dark=one.dark)
        for key, one in sorted(made.items())
    ]
    fields = ["address", "modules", "dark"]
    TagCode.objects.bulk_create(rows, update_conflicts=True, unique_fields=[column], update_fields=fields)
