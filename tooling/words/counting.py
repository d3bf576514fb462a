"""Numbers as a sentence says them: small ones in words, larger ones in figures."""

import re

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy, ngettext

_SMALL = (
    gettext_lazy("one"), gettext_lazy("two"), gettext_lazy("three"), gettext_lazy("four"), gettext_lazy("five"),
    gettext_lazy("six"), gettext_lazy("seven"), gettext_lazy("eight"), gettext_lazy("nine"), gettext_lazy("ten"),
    gettext_lazy("eleven"), gettext_lazy("twelve"),
)  # fmt: skip


def in_words(number: int) -> str:
    """One to twelve as words, everything else in figures."""
    return str(_SMALL[number - 1]) if 1 <= number <= len(_SMALL) else str(number)


def figures(text: str) -> str:
    """The same with figures where a small number stands in words before what there are several of: 4 shelves."""
    words = {str(word).casefold(): str(number) for number, word in enumerate(_SMALL, 1)}
    several = rf"(?<![^\s,])({'|'.join(words)})(?=\s+[^\W\d]+s\s*(?:,|$))"
    return re.sub(several, lambda found: words[found[1].casefold()], text, flags=re.IGNORECASE)


def capital(text: str) -> str:
    """The text as a sentence begins."""
    return text[:1].upper() + text[1:]


def coats(number: int) -> str:
    """So many release coats."""
    return ngettext("%(number)s coat", "%(number)s coats", number) % {"number": in_words(number)}


def coats_of_sealer(number: int) -> str:
    """So many coats of sealer."""
    return ngettext("%(number)s coat of sealer", "%(number)s coats of sealer", number) % {"number": in_words(number)}


def pulls(number: int) -> str:
    """So many pulls, in figures: they are counted on the tape."""
    return ngettext("%(number)d pull", "%(number)d pulls", number) % {"number": number}


def missing_coats(sealer: int, coat: int) -> str:
    """Coats that have to go on, the sealer first."""
    if sealer and coat:
        return _("%(sealer)s, then %(coats)s") % {"sealer": coats_of_sealer(sealer), "coats": coats(coat)}
    return coats_of_sealer(sealer) if sealer else coats(coat)


def serial_numbers(count: int) -> str:
    """one serial number, two serial numbers"""
    text = ngettext("%(count)s serial number", "%(count)s serial numbers", count)
    return text % {"count": in_words(count)}
