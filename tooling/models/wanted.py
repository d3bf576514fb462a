"""Parts that are wanted: what a lead put on the list, how many, and for which day."""

from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.utils.translation import gettext_lazy as _

LEAST_WANTED, MOST_WANTED = 1, 500
_ON = models.Q(off_at=None)


class WantedQuerySet(models.QuerySet["Wanted"]):
    def on_list(self) -> "WantedQuerySet":
        """Those that nobody took off, and that were not put away since they are done."""
        return self.filter(_ON)

    def in_order(self) -> "WantedQuerySet":
        """As they were put on the list."""
        return self.order_by("at", "pk")


class Wanted(models.Model):
    """A part on the list. Never deleted: `off_at` says since when it is off, `off_by` who took it off.

    Without `off_by` it was done: laid up and pulled as often as it was wanted. A history names the part alone, so a
    part stands on the list once. Without a revision its newest is meant, without a day every day until it is done.
    """

    part = models.ForeignKey("Part", models.PROTECT, related_name="wanted", db_index=False, verbose_name=_("part"))
    revision = models.ForeignKey(
        "PartRevision", models.PROTECT, null=True, blank=True, related_name="+", verbose_name=_("revision")
    )
    count = models.PositiveSmallIntegerField(
        _("how many"), default=1, validators=[MinValueValidator(LEAST_WANTED), MaxValueValidator(MOST_WANTED)]
    )
    day = models.DateField(_("for which day"), null=True, blank=True)
    at = models.DateTimeField(_("since"))
    by = models.ForeignKey("Person", models.PROTECT, null=True, blank=True, related_name="+", verbose_name=_("by"))
    off_at = models.DateTimeField(_("off the list since"), null=True, blank=True)
    off_by = models.ForeignKey("Person", models.PROTECT, null=True, blank=True, related_name="+")
    token = models.UUIDField(null=True, blank=True, unique=True, editable=False)
    # What the form said that brought it: the same form again writes nothing, another one with its token is refused.
    asked = models.CharField(max_length=16, blank=True, default="", editable=False)

    objects = WantedQuerySet.as_manager()

    class Meta:
        ordering = ["at", "id"]
        verbose_name = _("wanted part")
        verbose_name_plural = _("wanted parts")
        indexes = [models.Index(fields=["off_at"], name="wanted_off_at")]
        constraints = [
            models.UniqueConstraint(
                fields=["part"],
                condition=_ON,
                name="wanted_part_once",
                violation_error_message=_("This part is on the list already."),
            ),
            models.CheckConstraint(
                condition=models.Q(count__gte=LEAST_WANTED, count__lte=MOST_WANTED), name="wanted_count_range"
            ),
            models.CheckConstraint(condition=_ON | models.Q(off_at__gte=models.F("at")), name="wanted_off_after_on"),
            models.CheckConstraint(condition=models.Q(off_by=None) | ~_ON, name="wanted_off_by_when"),
        ]

    def __str__(self) -> str:
        return f"{self.part} × {self.count}"
