"""A row of the catalogue is checked and written, also where two people write the same one at the same moment."""

from django.db import IntegrityError, models, transaction


def save(row: models.Model) -> None:
    """Checks a row and writes it. Raises ValidationError by field.

    What somebody else wrote between the check and the write is refused by the database; the check then finds it, and
    says so in its own words.
    """
    row.full_clean()
    try:
        with transaction.atomic():
            row.save()
    except IntegrityError:
        row.full_clean()
        raise
