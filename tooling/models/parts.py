"""Parts: what is made, by number and revision."""

from string import ascii_lowercase, ascii_uppercase

from django.db import models
from django.db.models.functions import Upper
from django.utils.translation import gettext_lazy as _

from tooling.models.fields import Measured, NumberField, at_least

_CAPITALS = str.maketrans(ascii_lowercase, ascii_uppercase)


def as_in_index(number: str) -> set[str]:
    """Every way in which a database may have a number in capitals: SQLite knows those of ASCII alone."""
    return {one.translate(_CAPITALS) for one in (number, number.upper(), number.lower())}


class PartQuerySet(models.QuerySet["Part"]):
    def numbered(self, number: str) -> "PartQuerySet":
        """The part of that number, in any case."""
        return self.filter(number__iexact=number.strip())


class Part(models.Model):
    number = models.CharField(_("number"), max_length=80, unique=True)

    objects = PartQuerySet.as_manager()

    class Meta:
        ordering = ["number"]
        verbose_name = _("part")
        verbose_name_plural = _("parts")
        constraints = [
            models.UniqueConstraint(
                Upper("number"),
                name="part_number_any_case",
                violation_error_message=_("There is a part of that number already."),
            ),
            models.CheckConstraint(condition=~models.Q(number=""), name="part_number_given"),
        ]

    def __str__(self) -> str:
        return self.number


class PartRevisionQuerySet(models.QuerySet["PartRevision"]):
    def newest_first(self) -> "PartRevisionQuerySet":
        """Revisions are named by nobody's rule, so the newest is the one that came in last."""
        return self.order_by("-id")


class PartRevision(Measured):
    part = models.ForeignKey(Part, models.PROTECT, related_name="revisions", db_index=False)
    revision = models.CharField(_("revision"), max_length=40, blank=True, default="")
    name = models.CharField(_("name"), max_length=200)
    resin = models.TextField(_("resin"), blank=True, default="")
    process = models.TextField(_("process"), blank=True, default="")
    cure_c = NumberField(_("cure"), null=True, blank=True)
    peak_c = NumberField(_("peak"), null=True, blank=True)
    layup_minutes = NumberField(_("lay-up"), null=True, blank=True)
    in_mold_hours = NumberField(_("in the mold"), null=True, blank=True)
    laminate = models.TextField(_("laminate"), blank=True, default="")
    note = models.TextField(_("note"), blank=True, default="")

    objects = PartRevisionQuerySet.as_manager()

    class Meta:
        ordering = ["part", "id"]
        verbose_name = _("part revision")
        verbose_name_plural = _("part revisions")
        constraints = [
            models.UniqueConstraint(
                fields=["part", "revision"],
                name="part_revision_once",
                violation_error_message=_("This part has that revision already."),
            ),
            *at_least(0, "layup_minutes", "in_mold_hours", model="part_revision"),
        ]

    def __str__(self) -> str:
        return f"{self.part} {self.revision}".rstrip()
