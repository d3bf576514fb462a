"""A row of the catalogue is checked and written, also where two people write the same one at the same moment."""

from django.core.exceptions import FieldError, ValidationError
from django.db import IntegrityError, models, router, transaction


def save(row: models.Model) -> None:
    """Checks a row and writes it. Raises ValidationError by field.

    What somebody else wrote between the check and the write is refused by the database; the check then finds it, and
    says so in its own words.
    """
    check(row)
    try:
        with transaction.atomic():
            row.save()
    except IntegrityError:
        row.full_clean()
        raise


def check(row: models.Model) -> None:
    """What `full_clean` refuses. A row that is sound, as most are, asks the database once instead of for each rule."""
    try:
        row.full_clean(validate_constraints=False)
        sound = _holds(row)
    except (ValidationError, FieldError):
        sound = False
    if not sound:
        row.full_clean()


def _holds(row: models.Model) -> bool:
    """Whether all rules about single rows hold together; those about several rows are looked at one by one."""
    using, rules = router.db_for_write(type(row), instance=row), models.Q()
    for constraint in row._meta.constraints:
        if isinstance(constraint, models.CheckConstraint):
            rules &= models.Q(constraint.condition)
        else:
            constraint.validate(type(row), row, using=using)
    if not rules:
        return True
    against = {
        field.name: models.Value(getattr(row, field.attname), field) for field in row._meta.local_concrete_fields
    }
    return rules.check(against, using=using)
