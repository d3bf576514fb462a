"""What was looked at of the parts in doubt: made since the last good look before a hold, or with a bad lot."""

from django.db import models
from django.utils.translation import gettext_lazy as _

from tooling.models.serials import LONGEST_KEY


class Verdict(models.TextChoices):
    GOOD = "good", _("good")
    NOT_GOOD = "not_good", _("not good")


class ContainmentMark(models.Model):
    """One part that was looked at, for one doubt: that of an entry, or of a lot.

    `use`: the entry that made it; `serial`: its number as it is compared, "" where it had none. Taken back, it stays.
    """

    of_entry = models.ForeignKey("Entry", models.PROTECT, null=True, blank=True, related_name="containment_marks")
    of_lot = models.CharField(_("lot"), max_length=80, blank=True, default="")
    use = models.ForeignKey("Entry", models.PROTECT, related_name="+", db_index=False)
    serial = models.CharField(_("serial number"), max_length=LONGEST_KEY, blank=True, default="")
    found = models.CharField(_("found"), max_length=10, choices=Verdict.choices)
    words = models.TextField(blank=True, default="")
    at = models.DateTimeField(_("when"))
    recorded_at = models.DateTimeField(_("written down"))
    by = models.ForeignKey("Person", models.PROTECT, null=True, blank=True, related_name="+")
    recorded_by = models.ForeignKey("Person", models.PROTECT, null=True, blank=True, related_name="+")
    token = models.UUIDField(null=True, blank=True, unique=True, editable=False)
    taken_back_at = models.DateTimeField(_("taken back"), null=True, blank=True)
    taken_back_by = models.ForeignKey("Person", models.PROTECT, null=True, blank=True, related_name="+")

    class Meta:
        ordering = ["at", "id"]
        verbose_name = _("part that was looked at")
        verbose_name_plural = _("parts that were looked at")
        indexes = [models.Index(fields=["use", "serial"], name="containment_use_serial")]
        constraints = [
            models.UniqueConstraint(
                fields=["of_entry", "use", "serial"],
                condition=models.Q(taken_back_at=None, of_entry__isnull=False),
                name="containment_once_an_entry",
            ),
            models.UniqueConstraint(
                fields=["of_lot", "use", "serial"],
                condition=models.Q(taken_back_at=None, of_entry=None),
                name="containment_once_a_lot",
            ),
            models.CheckConstraint(condition=models.Q(found__in=Verdict.values), name="containment_found"),
            models.CheckConstraint(
                condition=models.Q(of_entry=None) & ~models.Q(of_lot="") | models.Q(of_entry__isnull=False, of_lot=""),
                name="containment_of_one_doubt",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.use_id} {self.serial} {self.found}"
