"""What is asked of a tool whose past was not recorded, with the word of its recipe's family."""

from collections.abc import Iterable

from django.utils.translation import gettext as _

from tooling.words.terms import KINDS


def one_family(families: Iterable[str]) -> str:
    """The family that all of them are of, or "" where they differ or nobody knows."""
    found = set(families)
    return found.pop() if len(found) == 1 else ""


def when_last(family: str) -> str:
    """When the last coat went on."""
    return {
        "paste_wax": _("About when was it last waxed?"),
        "semi_permanent": _("About when did it last get release?"),
    }.get(family, _("About when did it last get a coat?"))


def none_on(family: str) -> str:
    """That the surface is bare."""
    return {
        "paste_wax": _("no wax is on it"),
        "semi_permanent": _("no release is on it"),
    }.get(family, _("no coat is on it"))


def pulls_since(family: str) -> str:
    """How many pulls there were since."""
    return {
        "paste_wax": _("Pulls since that wax"),
        "semi_permanent": _("Pulls since that release"),
    }.get(family, _("Pulls since that coat"))


def proposals(by_kind: dict[str, str]) -> str:
    """Which recipe each kind is put on: mold WAX, plug WAX-PLUG; said once where it is the same for all."""
    if len(set(by_kind.values())) == 1:
        return next(iter(by_kind.values()))
    return ", ".join(f"{KINDS[kind]} {code}" for kind, code in by_kind.items())
