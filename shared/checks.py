"""What is wrong with this installation, each with an id and a hint, said before anything runs."""

from collections.abc import Sequence
from typing import Any

from django.conf import settings
from django.core.checks import CheckMessage, Error, Tags, Warning, register
from django.db import DatabaseError, connections

from shared import environment, libraries, media


@register()
def settings_are_usable(app_configs: Any, **kwargs: Any) -> list[CheckMessage]:
    """E001 to E006: settings of the environment that could not be used as given."""
    return [Error(problem.message, hint=problem.hint, id=problem.id) for problem in environment.problems]


@register()
def pictures_have_a_place(app_configs: Any, **kwargs: Any) -> list[CheckMessage]:
    """E007, E009: MEDIA_STORAGE is empty, or names a bucket that this installation can speak to."""
    given = settings.MEDIA_STORAGE
    if not given:
        return []
    if not media.bucket(given)[0]:
        return [
            Error(
                f'MEDIA_STORAGE is "{given}", which names no bucket.',
                hint="Leave it empty to keep pictures under DATA_DIR, or write s3://bucket.",
                id="shared.E007",
            )
        ]
    if media.can_reach_buckets():
        return []
    return [
        Error(
            "MEDIA_STORAGE names a bucket, but what speaks to buckets is not installed.",
            hint=f'Install it: .venv/bin/pip install "{media.PACKAGE}". Or leave MEDIA_STORAGE empty.',
            id="shared.E009",
        )
    ]


@register()
def pango_is_here(app_configs: Any, **kwargs: Any) -> list[CheckMessage]:
    """W001: without Pango nothing can be printed; everything else works."""
    missing, packages = libraries.missing(), " ".join(libraries.PACKAGES["apt-get"])
    if not missing:
        return []
    return [
        Warning(
            f"Not found on this machine: {', '.join(missing)}. Nothing can be printed; all else works.",
            hint=f"On Debian and Ubuntu: sudo apt-get update && sudo apt-get install {packages}",
            id="shared.W001",
        )
    ]


@register(Tags.database)
def database_answers(app_configs: Any, databases: Sequence[str] | None = None, **kwargs: Any) -> list[CheckMessage]:
    """E008: the database of DATABASE_URL can be opened."""
    found: list[CheckMessage] = []
    for alias in databases or []:
        try:
            with connections[alias].cursor() as cursor:
                cursor.execute("SELECT 1")
        except DatabaseError as error:
            reason = str(error).strip().splitlines()[0]
            found.append(
                Error(
                    f"The database cannot be opened: {reason}",
                    hint="Check DATABASE_URL, or DATA_DIR for the default file, and that its server runs.",
                    id="shared.E008",
                )
            )
    return found
