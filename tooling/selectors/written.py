"""What somebody means who writes a number, an owner or a code into a filter: the whole of it, or half."""

from collections.abc import Iterable
from difflib import get_close_matches

from django.db import connection

from tooling.models import Entry, Part, Tool
from tooling.models.search import fold

# Of so many a filter is made; more are not meant yet.
MANY, _OFFERED = 40, 3
_TABLE = Entry._meta.db_table
# From one number to the next along the index: to read all entries takes seconds where there are a million.
_NUMBERS = f"""
    WITH RECURSIVE named(number) AS (
        SELECT * FROM (SELECT UPPER(part) FROM {_TABLE} WHERE UPPER(part) > '' ORDER BY UPPER(part) LIMIT 1) AS first
        UNION ALL
        SELECT (SELECT UPPER(part) FROM {_TABLE} WHERE UPPER(part) > named.number ORDER BY UPPER(part) LIMIT 1)
        FROM named WHERE named.number IS NOT NULL
    ) SELECT number FROM named WHERE number IS NOT NULL
"""  # noqa: S608  (our own names)


def meant(text: str, there: Iterable[str]) -> list[str]:
    """Those that the text is, without regard to case, accents and signs; else those that have it in them."""
    asked, known = fold(text), [(one, fold(one)) for one in there]
    return [one for one, folded in known if folded == asked] or [one for one, folded in known if asked in folded]


def nearest(text: str, there: Iterable[str]) -> list[str]:
    """Those that are much like the text, the nearest first."""
    known = {fold(one): one for one in there}
    return [known[one] for one in get_close_matches(fold(text), known, n=_OFFERED, cutoff=0.7)]


def numbers() -> list[str]:
    """The numbers of all parts: as the list of parts writes them, else in capitals as histories name them."""
    listed = {number.upper(): number for number in Part.objects.values_list("number", flat=True)}
    with connection.cursor() as cursor:
        cursor.execute(_NUMBERS)
        named = [number for (number,) in cursor.fetchall() if number.upper() not in listed]
    return sorted([*listed.values(), *named])


def owners() -> list[str]:
    """All owners of tools."""
    return list(Tool.objects.exclude(owner="").order_by("owner").values_list("owner", flat=True).distinct())


def sources() -> list[str]:
    """The codes of all tools that another one was made from."""
    made = Tool.objects.exclude(made_from=None).values("made_from")
    return list(Tool.objects.filter(pk__in=made).order_by("code").values_list("code", flat=True))
