"""Which tins are open where somebody is signed in."""

from tooling.models import Person, Tin


def open_tins(holder: Person, recipe: str) -> dict[str, Tin]:
    """The tins of a recipe that are open at this sign-in, by what is in them."""
    return {tin.stuff: tin for tin in Tin.objects.open().filter(holder=holder, recipe__code=recipe)}


def lot_of(tins: str, stuff: str, holder: Person) -> str:
    """The lot of the tin that a page showed, by the keys of all that it showed; "" where none of them has that in it.

    What was shown is what is written, also where another tin was opened while the page was looked at.
    """
    keys = [int(key) for key in tins.split(",") if key.isascii() and key.isdigit() and len(key) < 19]
    found = Tin.objects.filter(pk__in=keys, holder=holder, stuff=stuff).order_by("pk").last()
    return found.lot if found is not None else ""


def recent_lots_of(recipe: str, most: int = 5) -> list[str]:
    """The lots of the tins of a recipe that were opened last."""
    lots = Tin.objects.filter(recipe__code=recipe).order_by("-opened_at").values_list("lot", flat=True)
    return list(dict.fromkeys(lots[: 4 * most]))[:most]
