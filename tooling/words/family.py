"""The word that a recipe's family uses: only paste wax says wax, a semi-permanent one says release, any other coat."""

from django.utils.translation import gettext as _


def coat_first(family: str) -> str:
    """What a surface wants whose pulls are done."""
    return _by_family(family, wax=_("Wax first"), release=_("Release first"), other=_("Coat first"))


def coat_wanted(family: str) -> str:
    """The deed of whoever wants a coat before the count is up."""
    return _by_family(family, wax=_("Wax wanted"), release=_("Release wanted"), other=_("A coat wanted"))


def then_a_coat(family: str) -> str:
    """What comes when the pulls are done."""
    return _by_family(family, wax=_("then wax"), release=_("then release"), other=_("then a coat"))


def coat_line(family: str) -> str:
    """The place on the tape behind which no pull should stand."""
    return _by_family(family, wax=_("wax line"), release=_("release line"), other=_("coat line"))


def coat_after(family: str, pull: int) -> str:
    """The number of the last pull before the next coat."""
    text = _by_family(
        family,
        wax=_("wax after pull %(pull)d"),
        release=_("release after pull %(pull)d"),
        other=_("a coat after pull %(pull)d"),
    )
    return text % {"pull": pull}


def coat_stuff(family: str) -> str:
    """What a coat is made of, for the lot of it."""
    return _by_family(family, wax=_("Wax"), release=_("Release liquid"), other=_("Release agent"))


def family_name(family: str) -> str:
    """What the recipe is made of, in a sentence."""
    return _by_family(family, wax=_("paste wax"), release=_("semi-permanent"), other=_("another release agent"))


def _by_family(family: str, *, wax: str, release: str, other: str) -> str:
    return {"paste_wax": wax, "semi_permanent": release}.get(family, other)
