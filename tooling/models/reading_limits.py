"""The shop's own limits of readings. None is built in: we know of none that was published for tools like these."""

from datetime import datetime

from django.db import models
from django.db.models.functions import Upper
from django.utils.translation import gettext_lazy as _

from tooling.models.fields import NumberField
from tooling.models.tools import Kind


class Worse(models.TextChoices):
    UP = "up", _("a higher reading is worse")
    DOWN = "down", _("a lower reading is worse")


class ReadingLimitQuerySet(models.QuerySet["ReadingLimit"]):
    def held(self, at: datetime) -> "ReadingLimitQuerySet":
        """Those that held at a moment."""
        begun = models.Q(since=None) | models.Q(since__lte=at)
        return self.filter(begun, models.Q(until=None) | models.Q(until__gt=at))

    def standing(self) -> "ReadingLimitQuerySet":
        """Those that nobody has ended."""
        return self.filter(until=None)


class ReadingLimit(models.Model):
    """Of one quantity in one unit and geometry: for all tools of a kind, or for one tool, which then goes first.

    It is ended, never changed: what was past a limit on a day has an answer for ever. since: None where it holds as
    long as there is a record.
    """

    kind = models.CharField(_("kind of tool"), max_length=10, choices=Kind.choices)
    tool = models.ForeignKey("Tool", models.CASCADE, null=True, blank=True, related_name="reading_limits")
    quantity = models.CharField(_("what is measured"), max_length=80)
    unit = models.CharField(_("unit"), max_length=20)
    geometry = models.CharField(_("geometry"), max_length=40, blank=True, default="")
    limit = NumberField(_("limit"))
    worse = models.CharField(_("which way is worse"), max_length=4, choices=Worse.choices)
    note = models.CharField(_("where it comes from"), max_length=200, blank=True, default="")
    since = models.DateTimeField(_("holds since"), null=True, blank=True)
    until = models.DateTimeField(_("held until"), null=True, blank=True)
    set_by = models.ForeignKey("Person", models.PROTECT, null=True, blank=True, related_name="+")
    ended_by = models.ForeignKey("Person", models.PROTECT, null=True, blank=True, related_name="+")

    objects = ReadingLimitQuerySet.as_manager()

    class Meta:
        ordering = ["kind", "quantity", "unit", "geometry", "tool"]
        verbose_name = _("limit of a reading")
        verbose_name_plural = _("limits of readings")
        constraints = [
            models.UniqueConstraint(
                "kind", Upper("quantity"), "unit", Upper("geometry"),
                condition=models.Q(tool=None, until=None), name="reading_limit_once_a_kind",
            ),
            models.UniqueConstraint(
                "tool", Upper("quantity"), "unit", Upper("geometry"),
                condition=models.Q(tool__isnull=False, until=None), name="reading_limit_once_a_tool",
            ),
            models.CheckConstraint(condition=models.Q(kind__in=Kind.values), name="reading_limit_kind"),
            models.CheckConstraint(condition=models.Q(worse__in=Worse.values), name="reading_limit_worse"),
            models.CheckConstraint(
                condition=~models.Q(quantity="") & ~models.Q(unit=""), name="reading_limit_of_what"
            ),
            models.CheckConstraint(
                condition=models.Q(until=None) | models.Q(since=None) | models.Q(until__gte=models.F("since")),
                name="reading_limit_ends_after",
            ),
        ]  # fmt: skip

    def __str__(self) -> str:
        return f"{self.quantity} {self.limit} {self.unit}"
